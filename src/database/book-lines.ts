import { groupBy } from "../rules/group-by.ts";
import { cardPaidParts, type PriceAndTax } from "../rules/policy/card-paid.ts";
import type { BookLine } from "../rules/policy/sale-book.ts";
import type { Transaction } from "./client.ts";

/** A line as the rules take it, with what a statement says about it. */
export interface GatheredLine extends BookLine {
  soldAt: Date;
  /** Null for a piece without a tag whose member is known. */
  itemId: string | null;
  tag: string;
  description: string;
  settled: boolean;
}

interface Row extends Omit<GatheredLine, "card" | "original" | "amount" | "frozenCardFee"> {
  amount: bigint;
  frozenCardFee: bigint | null;
  originalId: string | null;
  originalQuantity: number | null;
  alreadyReturned: number | null;
}

/**
 * Every credited line of a sale, or of one member in it. What statements hold comes first, in the
 * order of the statements, so that a line that comes late never changes how earlier ones were
 * rounded; and sales come before returns, whose order is read from the movements: their numbers
 * are given under the lock of the line that is returned, while times are those of a till's clock.
 */
export async function bookLines(
  db: Transaction,
  saleId: string,
  memberId: string | null = null,
): Promise<GatheredLine[]> {
  const rows = await db.$queryRaw<Row[]>`
    WITH back AS (
      SELECT l.id, coalesce(sum(-l.quantity) OVER (PARTITION BY l.reverses_line_id ORDER BY m.id, l.id
          ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING), 0)::integer AS already
      FROM receipt r JOIN credited_line l ON l.receipt_id = r.id LEFT JOIN movement m ON m.receipt_line_id = l.id
      WHERE r.sale_id = ${saleId}::uuid AND l.reverses_line_id IS NOT NULL)
    SELECT l.id AS "lineId", l.receipt_id AS "receiptId", l.member_id AS "memberId", coalesce(k.code, '') AS kind,
      l.donated, l.quantity, l.amount, r.made_at AS "soldAt", l.item_id AS "itemId", l.tag, l.description,
      t.receipt_line_id IS NOT NULL AS settled, t.card_fee AS "frozenCardFee",
      o.id AS "originalId", o.quantity AS "originalQuantity", back.already AS "alreadyReturned"
    FROM receipt r
    JOIN credited_line l ON l.receipt_id = r.id
    LEFT JOIN item i ON i.id = l.item_id
    LEFT JOIN kind k ON k.id = i.kind_id
    LEFT JOIN credited_line o ON o.id = l.reverses_line_id
    LEFT JOIN back ON back.id = l.id
    LEFT JOIN statement_line t ON t.receipt_line_id = l.id
    LEFT JOIN statement s ON s.id = t.statement_id
    WHERE r.sale_id = ${saleId}::uuid AND (${memberId}::uuid IS NULL OR l.member_id = ${memberId}::uuid)
    ORDER BY s.number NULLS LAST, t.position, l.quantity < 0, r.made_at, r.id, l.position`;
  const cardOf = await cardParts(db, saleId, memberId);
  return rows.map((row) => gathered(row, cardOf.get(row.lineId)));
}

function gathered(row: Row, card: PriceAndTax | undefined): GatheredLine {
  const { originalId, originalQuantity, alreadyReturned, frozenCardFee, ...rest } = row;
  const line = {
    ...rest,
    amount: Number(row.amount),
    card: card ?? { price: 0, tax: 0 },
    ...(frozenCardFee === null ? {} : { frozenCardFee: Number(frozenCardFee) }),
  };
  if (originalId === null || originalQuantity === null) return line;
  const original = { lineId: originalId, quantity: originalQuantity };
  return { ...line, original: { ...original, alreadyReturned: alreadyReturned ?? 0 } };
}

interface CardRow {
  receiptId: string;
  lineId: string;
  amount: bigint;
  tax: bigint;
  card: bigint;
}

/**
 * What cards paid of each line, of the receipts with a line of the member when one is given: a
 * member who looks at what sold must not make the whole sale be worked out. A sale that was called off costs nobody a fee: the terminal takes
 * such a payment back whole (common practice, no source).
 */
async function cardParts(
  db: Transaction,
  saleId: string,
  memberId: string | null,
): Promise<Map<string, PriceAndTax>> {
  const rows = await db.$queryRaw<CardRow[]>`
    WITH paid AS (
      SELECT r.id, sum(o.amount) AS card FROM receipt r JOIN receipt_tender o ON o.receipt_id = r.id
      WHERE r.sale_id = ${saleId}::uuid AND r.kind = 'sale' AND o.kind = 'card'
        AND NOT EXISTS (SELECT 1 FROM receipt v WHERE v.reverses_id = r.id AND v.kind = 'void')
        AND (${memberId}::uuid IS NULL OR EXISTS (
          SELECT 1 FROM credited_line c WHERE c.receipt_id = r.id AND c.member_id = ${memberId}::uuid))
      GROUP BY r.id HAVING sum(o.amount) > 0)
    SELECT l.receipt_id AS "receiptId", l.id AS "lineId", l.amount, l.tax, paid.card
    FROM paid JOIN receipt_line l ON l.receipt_id = paid.id ORDER BY l.receipt_id, l.position`;
  const receipts = groupBy(rows, ({ receiptId }) => receiptId);
  const parts = new Map<string, PriceAndTax>();
  for (const lines of receipts.values()) {
    const prices = lines.map(({ amount, tax }) => ({ price: Number(amount), tax: Number(tax) }));
    const whole = prices.reduce((sum, { price, tax }) => sum + price + tax, 0);
    const shares = cardPaidParts(Math.min(Number(lines[0]!.card), whole), prices);
    for (const [index, { lineId }] of lines.entries()) parts.set(lineId, shares[index]!);
  }
  return parts;
}
