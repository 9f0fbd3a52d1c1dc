import type { SaleFacts } from "../rules/stage-move.ts";
import type { Database, Transaction } from "./client.ts";

/** What has been recorded for a sale, as far as its stage depends on it. */
export async function saleFacts(db: Database | Transaction, saleId: string): Promise<SaleFacts> {
  const rows = await db.$queryRaw<SaleFacts[]>`
    SELECT
      (SELECT count(*)::int FROM item WHERE sale_id = s.id AND withdrawn_at IS NULL) AS "items",
      (SELECT count(*)::int FROM till WHERE sale_id = s.id) AS "tills",
      (SELECT count(*)::int FROM till_session o JOIN till t ON t.id = o.till_id
        WHERE t.sale_id = s.id AND o.closed_at IS NULL) AS "openTills",
      (SELECT count(*)::int FROM receipt WHERE sale_id = s.id) AS "receipts",
      (SELECT count(*)::int FROM settlement WHERE sale_id = s.id) AS "settlements",
      (SELECT count(*)::int FROM credited_line l JOIN receipt r ON r.id = l.receipt_id
        LEFT JOIN statement_line d ON d.receipt_line_id = l.id
        WHERE r.sale_id = s.id AND d.receipt_line_id IS NULL) AS "unsettledLines",
      (SELECT count(*)::int FROM statement m JOIN settlement e ON e.id = m.settlement_id
        WHERE e.sale_id = s.id AND m.due > 0 AND NOT EXISTS (
          SELECT 1 FROM payout p LEFT JOIN payout_void v ON v.payout_id = p.id
          WHERE p.statement_id = m.id AND v.payout_id IS NULL)) AS "unpaidStatements"
    FROM sale s WHERE s.id = ${saleId}::uuid`;
  if (!rows[0]) throw new Error(`There is no sale ${saleId}.`);
  return rows[0];
}

/** Where the pieces of a sale are, and how many members brought them. */
export interface SaleCounts {
  members: number;
  items: number;
  entered: number;
  onFloor: number;
  sold: number;
}

export async function saleCounts(
  db: Database,
  saleId: string,
  memberId: string | null = null,
): Promise<SaleCounts> {
  const rows = await db.$queryRaw<SaleCounts[]>`
    SELECT count(DISTINCT i.member_id)::int AS "members", count(*)::int AS "items",
      coalesce(sum(c.entered), 0)::int AS "entered", coalesce(sum(c.on_floor), 0)::int AS "onFloor",
      coalesce(sum(c.with_buyer), 0)::int AS "sold"
    FROM item i JOIN item_count c ON c.item_id = i.id
    WHERE i.sale_id = ${saleId}::uuid AND i.withdrawn_at IS NULL
      AND (${memberId}::uuid IS NULL OR i.member_id = ${memberId}::uuid)`;
  return rows[0] ?? { members: 0, items: 0, entered: 0, onFloor: 0, sold: 0 };
}
