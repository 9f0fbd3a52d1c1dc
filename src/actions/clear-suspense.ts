import type { Database } from "../database/client.ts";
import { linesToClear } from "../database/suspense.ts";
import { identifyLine } from "./identify-line.ts";

/** Who records, when it is not a signed-in person but a receipt that clears another. */
export interface Clearing {
  db: Database;
  byId: string;
  requestId: string;
}

/**
 * Takes out of suspense what a receipt makes clear: returns that were here before their sale, and
 * returns of pieces whose owner was found meanwhile. Each is a deed of its own that happens once,
 * so asking again is harmless and a refusal leaves the line to the treasurer.
 */
export async function clearSuspense(
  { db, byId, requestId }: Clearing,
  receiptId: string,
): Promise<number> {
  const lines = await linesToClear(db, receiptId);
  let cleared = 0;
  for (const { lineId, memberId, itemId } of lines) {
    const actor = { id: byId, number: 0, name: "", roles: [] };
    const reason = "It takes back a piece whose owner is known.";
    const done = await identifyLine({ db, actor, requestId }, { lineId, memberId, itemId, reason });
    if (done.ok) cleared += 1;
  }
  return cleared;
}
