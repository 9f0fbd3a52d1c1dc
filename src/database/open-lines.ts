import type { SoldLine } from "../rules/settlement.ts";
import type { Transaction } from "./client.ts";

/** A receipt line that no statement holds yet, with what a statement will say about it. */
export interface OpenLine extends SoldLine {
  memberName: string;
  soldAt: Date;
  /** Null for a piece without a tag whose member is known. */
  itemId: string | null;
  tag: string;
  description: string;
}

interface Row {
  lineId: string;
  memberId: string;
  memberNumber: number;
  memberName: string;
  soldAt: Date;
  itemId: string | null;
  tag: string;
  description: string;
  quantity: number;
  amount: bigint;
  donated: boolean;
  rate: number;
  originalQuantity: number | null;
  originalAmount: bigint | null;
  alreadyReturned: number | null;
}

/**
 * The lines of a sale that are still to be settled; with `memberId` those of one member. Which
 * return of a stack came first is read from the movements: their numbers are given under the lock
 * of the line that is returned, while the times are those of each transaction's start. The rate of
 * a return is the one its sale was settled at, if it was.
 */
export async function openLines(
  db: Transaction,
  saleId: string,
  memberId: string | null = null,
): Promise<OpenLine[]> {
  const rows = await db.$queryRaw<Row[]>`
    WITH back AS (
      SELECT l.id, coalesce(sum(-l.quantity) OVER (PARTITION BY l.reverses_line_id ORDER BY m.id, l.id
          ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING), 0)::integer AS already
      FROM receipt r JOIN credited_line l ON l.receipt_id = r.id LEFT JOIN movement m ON m.receipt_line_id = l.id
      WHERE r.sale_id = ${saleId}::uuid AND l.reverses_line_id IS NOT NULL)
    SELECT l.id AS "lineId", l.member_id AS "memberId", p.number AS "memberNumber", p.name AS "memberName",
      r.made_at AS "soldAt", l.item_id AS "itemId", l.tag, l.description, l.quantity, l.amount, l.donated,
      coalesce(settled.rate, (SELECT (p.policy #>> '{rates,ordinary}')::int FROM sale_policy p WHERE p.sale_id = s.id ORDER BY p.version DESC LIMIT 1)) AS rate, o.quantity AS "originalQuantity",
      o.amount AS "originalAmount", back.already AS "alreadyReturned"
    FROM receipt r
    JOIN sale s ON s.id = r.sale_id
    JOIN credited_line l ON l.receipt_id = r.id
    JOIN member p ON p.id = l.member_id
    LEFT JOIN credited_line o ON o.id = l.reverses_line_id
    LEFT JOIN statement_line settled ON settled.receipt_line_id = o.id
    LEFT JOIN back ON back.id = l.id
    WHERE r.sale_id = ${saleId}::uuid AND (${memberId}::uuid IS NULL OR l.member_id = ${memberId}::uuid)
      AND NOT EXISTS (SELECT 1 FROM statement_line t WHERE t.receipt_line_id = l.id)
    ORDER BY p.number, r.made_at, r.id, l.position`;
  return rows.map(openLine);
}

function openLine(row: Row): OpenLine {
  const { originalQuantity, originalAmount, alreadyReturned, ...rest } = row;
  const line = { ...rest, amount: Number(row.amount) };
  if (originalQuantity === null || originalAmount === null) return line;
  return {
    ...line,
    original: {
      quantity: originalQuantity,
      amount: Number(originalAmount),
      alreadyReturned: alreadyReturned ?? 0,
    },
  };
}
