import type { Database, Transaction } from "./client.ts";

/** A suspended line that another line makes clear. */
export interface ClearedLine {
  lineId: string;
  memberId: string | null;
  itemId: string | null;
}

/**
 * Suspended lines on this receipt, or waiting for it, whose original line has an owner, the oldest
 * first. Together with what has come back they never take back more than was sold: a line that
 * would is left to the treasurer. A piece is named only when all of it was the original's. Every way
 * to a line goes along an index: this runs after every receipt, and must not look through those of
 * the whole sale.
 */
export const linesToClear = (db: Database, receiptId: string): Promise<ClearedLine[]> =>
  db.$queryRaw<ClearedLine[]>`/* keep: lines-to-clear */
    WITH sold AS (
      SELECT id FROM receipt_line WHERE receipt_id = ${receiptId}::uuid
      UNION SELECT coalesce(awaits_line_id, reverses_line_id) FROM receipt_line
        WHERE receipt_id = ${receiptId}::uuid AND (awaits_line_id IS NOT NULL OR reverses_line_id IS NOT NULL)),
    back AS (
      SELECT b.id, s.id AS original_id FROM sold s JOIN receipt_line b ON b.awaits_line_id = s.id
      UNION ALL SELECT b.id, s.id FROM sold s JOIN receipt_line b ON b.reverses_line_id = s.id
        WHERE b.awaits_line_id IS NULL),
    taken AS (
      SELECT b.id, b.original_id, sum(l.quantity) OVER oldest AS quantity, sum(l.amount) OVER oldest AS amount
      FROM back b JOIN receipt_line l ON l.id = b.id LEFT JOIN identified n ON n.line_id = b.id
      WINDOW oldest AS (PARTITION BY b.original_id ORDER BY l.suspended AND n.line_id IS NULL, b.id ROWS UNBOUNDED PRECEDING))
    SELECT l.id AS "lineId",
      CASE WHEN o.donated OR o.kind = 'goods' THEN NULL WHEN i.line_id IS NULL THEN o.member_id ELSE i.member_id END AS "memberId",
      CASE WHEN i.line_id IS NULL THEN o.item_id ELSE i.item_id END AS "itemId"
    FROM taken t JOIN receipt_line l ON l.id = t.id JOIN receipt_line o ON o.id = t.original_id
    LEFT JOIN identified i ON i.line_id = o.id
    WHERE l.suspended AND o.quantity + t.quantity >= 0 AND o.amount + t.amount >= 0
      AND NOT EXISTS (SELECT 1 FROM identified mine WHERE mine.line_id = l.id)
      AND (l.receipt_id = ${receiptId}::uuid OR o.receipt_id = ${receiptId}::uuid)
      AND (NOT o.suspended OR i.line_id IS NOT NULL)
    ORDER BY l.id`;

/** A line that waits for its owner, as the treasurer's list shows it. */
export interface SuspendedLine {
  id: string;
  receiptId: string;
  tillNumber: number;
  receiptNumber: number;
  at: Date;
  tag: string;
  description: string;
  quantity: number;
  amount: bigint;
  memberNumber: number | null;
  /** Why it is here: the notes of its receipt. */
  notes: string[];
}

/** What is in suspense at a sale, the oldest first, a page at a time. */
export async function listSuspense(
  db: Transaction,
  saleId: string,
  { after, limit }: { after?: string | undefined; limit: number },
): Promise<{ items: SuspendedLine[]; next: string | null }> {
  const rows = await db.$queryRaw<SuspendedLine[]>`
    SELECT l.id, r.id AS "receiptId", t.number AS "tillNumber", r.number AS "receiptNumber", r.made_at AS at,
      l.tag, l.description, l.quantity, l.amount, m.number AS "memberNumber",
      ARRAY(SELECT d.kind FROM discrepancy d WHERE d.receipt_id = r.id ORDER BY d.id) AS notes
    FROM receipt_line l JOIN receipt r ON r.id = l.receipt_id JOIN till t ON t.id = r.till_id
    LEFT JOIN member m ON m.id = l.member_id
    WHERE r.sale_id = ${saleId}::uuid AND l.suspended
      AND NOT EXISTS (SELECT 1 FROM identified i WHERE i.line_id = l.id)
      AND (${after ?? null}::uuid IS NULL OR l.id > ${after ?? null}::uuid)
    ORDER BY l.id LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}
