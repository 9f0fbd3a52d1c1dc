import type { CashMoveKind } from "../contract/till.ts";
import type { Transaction } from "../database/client.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { cashMoveWords } from "../rules/cash-move.ts";
import type { CashCount } from "../rules/denominations.ts";
import { cashMovePostings } from "../rules/ledger-entries.ts";
import { keptCounts } from "./counted-cash.ts";

export interface OpenSession {
  id: string;
  tillId: string;
  saleId: string;
  /** The till's number. */
  number: number;
}

export interface MoveToWrite {
  id: string;
  kind: CashMoveKind;
  amount: number;
  counts: readonly CashCount[];
  reason: string;
}

/**
 * The open session of a till, held so that nothing else counts or moves what is in its drawer;
 * receipts hold it shared and wait their turn. Undefined when the till is closed.
 */
export async function holdOpenSession(
  tx: Transaction,
  tillId: string,
): Promise<OpenSession | undefined> {
  const rows = await tx.$queryRaw<OpenSession[]>`
    SELECT o.id, t.id AS "tillId", t.sale_id AS "saleId", t.number
    FROM till_session o JOIN till t ON t.id = o.till_id
    WHERE o.till_id = ${tillId}::uuid AND o.closed_at IS NULL FOR UPDATE OF o`;
  return rows[0];
}

/** Records a move of cash and books it. */
export async function writeCashMove(
  tx: Transaction,
  session: OpenSession,
  move: MoveToWrite,
  by: { id: string; at: Date },
): Promise<void> {
  const { id, kind, amount, counts, reason } = move;
  const row = { id, kind, amount: BigInt(amount), counts: keptCounts(counts), reason };
  await tx.cashMove.create({
    data: { ...row, tillSessionId: session.id, byId: by.id, at: by.at },
  });
  await writeEntry(tx, {
    kind: "cash-move",
    description: `${cashMoveWords[kind].label}, till ${session.number}`,
    saleId: session.saleId,
    subjectId: id,
    byId: by.id,
    postings: cashMovePostings(kind, amount, session.tillId),
  });
}
