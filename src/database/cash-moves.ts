import type { CashCount } from "../rules/denominations.ts";
import type { Database } from "./client.ts";

export interface CashMoveRead {
  id: string;
  kind: "to-safe" | "paid-in" | "paid-out";
  amount: number;
  counts: CashCount[];
  reason: string;
  by: string;
  /** ISO text. */
  at: string;
}

/**
 * Cash that moved without a sale in the open session of a till, newest first. A session has a
 * handful of them, so they are never paged.
 */
export async function listCashMoves(db: Database, tillId: string): Promise<CashMoveRead[]> {
  const rows = await db.$queryRaw<{ moves: CashMoveRead[] }[]>`
    SELECT coalesce(json_agg(json_build_object('id', c.id, 'kind', c.kind, 'amount', c.amount,
      'counts', c.counts, 'reason', c.reason, 'by', m.name, 'at', c.at) ORDER BY c.at DESC, c.id DESC), '[]') AS moves
    FROM cash_move c JOIN till_session o ON o.id = c.till_session_id JOIN member m ON m.id = c.by_id
    WHERE o.till_id = ${tillId}::uuid AND o.closed_at IS NULL`;
  return rows[0]?.moves ?? [];
}

export interface CashUpListed {
  sessionId: string;
  tillNumber: number;
  counted: number;
  difference: number;
  at: string;
}

/** The cash-ups of one sale, the last one first; a sale of a weekend has a few for each till. */
export async function cashUpsOf(db: Database, saleId: string): Promise<CashUpListed[]> {
  const rows = await db.cashUp.findMany({
    where: { tillSession: { till: { saleId } } },
    orderBy: { at: "desc" },
    include: { tillSession: { include: { till: true } } },
    take: 200,
  });
  return rows.map((row) => ({
    sessionId: row.tillSessionId,
    tillNumber: row.tillSession.till.number,
    counted: Number(row.counted),
    difference: Number(row.difference),
    at: row.at.toISOString(),
  }));
}
