import type { Transaction } from "./client.ts";
import { gatherTags, type ItemTag, type TagChoice } from "./tags.ts";

export type PrintedWhat = "tag" | "care-strip";

/** Printed means that a print holds it which was neither cancelled nor failed. */
const lastPrints = (db: Transaction, what: PrintedWhat, itemIds: readonly string[]) =>
  db.$queryRaw<{ itemId: string; fingerprint: string }[]>`
    SELECT DISTINCT ON (p.item_id) p.item_id AS "itemId", p.fingerprint
    FROM tag_print p JOIN print_job j ON j.id = p.job_id
    WHERE p.item_id = ANY(${[...itemIds]}::uuid[]) AND p.what = ${what}
      AND j.state NOT IN ('cancelled', 'failed')
    ORDER BY p.item_id, p.id DESC`;

/** Whether a tag was printed, and whether it says something else now. */
export type Printed = "new" | "changed" | "current";

export interface PrintableTag extends ItemTag {
  printed: Printed;
}

/** The tags (or care strips) of a choice, each with what became of it so far. */
export async function printables(
  db: Transaction,
  what: PrintedWhat,
  choice: TagChoice,
): Promise<PrintableTag[]> {
  const gathered = await gatherTags(db, choice);
  const tags =
    what === "tag" ? gathered : gathered.filter(({ words }) => words.careLines.length > 0);
  const last = await lastPrints(
    db,
    what,
    tags.map(({ itemId }) => itemId),
  );
  const before = new Map(last.map(({ itemId, fingerprint }) => [itemId, fingerprint]));
  return tags.map((tag) => {
    const fingerprint = what === "tag" ? tag.fingerprint : tag.stripFingerprint;
    const known = before.get(tag.itemId);
    const printed = known === undefined ? "new" : known === fingerprint ? "current" : "changed";
    return { ...tag, fingerprint, printed };
  });
}

/** How many tags are new, out of date, and there at all. */
export function countsOf(tags: readonly PrintableTag[]) {
  const count = (printed: Printed) => tags.filter((tag) => tag.printed === printed).length;
  return { new: count("new"), changed: count("changed"), all: tags.length };
}

export const printCounts = async (db: Transaction, what: PrintedWhat, choice: TagChoice) =>
  countsOf(await printables(db, what, choice));

/** Whether the tag that was printed for an item is out of date. */
export async function hasStaleTag(db: Transaction, item: { id: string; saleId: string }) {
  const [tag] = await printables(db, "tag", { saleId: item.saleId, itemId: item.id, each: true });
  return tag?.printed === "changed";
}
