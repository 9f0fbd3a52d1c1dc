import type { CashCount } from "../rules/denominations.ts";
import { drawer } from "../rules/ledger.ts";
import { balanceOf } from "./balance.ts";
import type { Database, Transaction } from "./client.ts";

/** A count of a drawer that did not close its till, as it was compared with the books. */
export interface DrawerCount {
  counted: number;
  counts: CashCount[];
  expected: number;
  witness: string;
  note: string;
  byId: string;
  by: string;
}

/** The deed that keeps such a count; its audit row cannot be changed, so no count is ever lost. */
export const countDeed = "count-drawer";

/** Every such count of one session, the first one first. */
export async function drawerCounts(
  db: Database | Transaction,
  sessionId: string,
): Promise<DrawerCount[]> {
  const rows = await db.audit.findMany({
    where: { subjectId: sessionId, deed: countDeed },
    orderBy: { id: "asc" },
  });
  return rows.map(({ detail }) => detail as unknown as DrawerCount);
}

/** The last such count, as long as nothing went into or out of the drawer after it. */
export async function standingCountOf(
  db: Database | Transaction,
  sessionId: string,
  tillId: string,
): Promise<DrawerCount | undefined> {
  const last = (await drawerCounts(db, sessionId)).at(-1);
  return last?.expected === (await balanceOf(db, drawer(tillId))) ? last : undefined;
}
