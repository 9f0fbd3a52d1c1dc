import type { Database } from "../../database/client.ts";
import { findItem } from "../../database/items.ts";
import { questionsFor } from "../../rules/labels/cautions/cautions.ts";

/** Where a new entry goes on to when its kind calls for questions that are still open. */
export async function questionsPath(
  db: Database,
  itemId: string,
  another: boolean,
): Promise<string | undefined> {
  const item = await findItem(db, itemId);
  if (!item) return undefined;
  const open = questionsFor(item.labelKind).some(({ code }) => !item.label.answers[code]);
  return open ? `/items/${itemId}/questions${another ? "?next=another" : ""}` : undefined;
}
