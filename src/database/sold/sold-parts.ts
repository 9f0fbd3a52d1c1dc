import type { Transaction } from "../client.ts";

/** What is left of one sale of pieces after everything of it that came back, with its share. */
export interface SoldPart {
  /** The line of the receipt that sold it. */
  id: string;
  saleId: string;
  itemId: string | null;
  tag: string;
  description: string;
  donated: boolean;
  soldAt: Date;
  pieces: number;
  amount: number;
  /** Guild share and card fee, and what is left, of what statements hold. */
  kept: number;
  left: number;
  /** Of `amount`, what no statement holds yet. */
  open: number;
  settled: boolean;
  /** Minutes from the first opening of the sale, or the piece's coming to the desk after it. */
  wait: number | null;
}

type Row = { [Name in keyof SoldPart]: SoldPart[Name] };
type Amounts = "amount" | "kept" | "left" | "open";

/**
 * Everything of a member that sold, each with its returns and voids. The lines are found by member
 * first and each of them is looked up by its key (the OFFSETs keep it so), so that the work grows
 * with the member's own sales and not with the guild's.
 */
export async function soldPartsOf(db: Transaction, memberId: string): Promise<SoldPart[]> {
  const rows = await db.$queryRaw<(Omit<Row, Amounts> & Record<Amounts, bigint>)[]>`
    WITH mine AS MATERIALIZED (
      SELECT id FROM receipt_line WHERE member_id = ${memberId}::uuid
      UNION SELECT line_id FROM identified WHERE member_id = ${memberId}::uuid),
    lines AS MATERIALIZED (
      SELECT l.*, r.sale_id, r.made_at, t.receipt_line_id IS NOT NULL AS settled, t.guild_share, t.card_fee, t.net
      FROM mine
      CROSS JOIN LATERAL (SELECT * FROM credited_line c
        WHERE c.id = mine.id AND c.member_id = ${memberId}::uuid OFFSET 0) l
      CROSS JOIN LATERAL (SELECT sale_id, made_at FROM receipt q WHERE q.id = l.receipt_id OFFSET 0) r
      LEFT JOIN LATERAL (SELECT receipt_line_id, guild_share, card_fee, net FROM statement_line s
        WHERE s.receipt_line_id = l.id OFFSET 0) t ON true),
    parts AS (
      SELECT coalesce(reverses_line_id, id) AS id,
        (array_agg(sale_id ORDER BY quantity < 0, made_at))[1] AS sale_id,
        (array_agg(item_id ORDER BY quantity < 0, made_at))[1] AS item_id,
        (array_agg(tag ORDER BY quantity < 0, made_at))[1] AS tag,
        (array_agg(description ORDER BY quantity < 0, made_at))[1] AS description,
        (array_agg(made_at ORDER BY quantity < 0, made_at))[1] AS made_at,
        bool_or(donated) AS donated, sum(quantity)::integer AS pieces, sum(amount)::bigint AS amount,
        coalesce(sum(guild_share + card_fee), 0)::bigint AS kept, coalesce(sum(net), 0)::bigint AS "left",
        coalesce(sum(amount) FILTER (WHERE NOT settled), 0)::bigint AS open, bool_and(settled) AS settled
      FROM lines GROUP BY coalesce(reverses_line_id, id))
    SELECT p.id, p.sale_id AS "saleId", p.item_id AS "itemId", p.tag, p.description, p.donated,
      p.made_at AS "soldAt", p.pieces, p.amount, p.kept, p."left", p.open, p.settled,
      CASE WHEN p.pieces > 0 THEN
        greatest(0, floor(extract(epoch FROM p.made_at - greatest(o.at, d.at)) / 60))::integer END AS wait
    FROM parts p
    LEFT JOIN (SELECT g.sale_id, (SELECT min(c.at) FROM stage_change c
        WHERE c.sale_id = g.sale_id AND c.to_stage = 'selling') AS at
      FROM (SELECT DISTINCT sale_id FROM parts) g) o ON o.sale_id = p.sale_id
    LEFT JOIN LATERAL (SELECT min(m.at) AS at FROM movement m
      WHERE m.item_id = p.item_id AND m.kind = 'checked-in' OFFSET 0) d ON true
    ORDER BY p.made_at DESC, p.id DESC`;
  return rows.map(({ amount, kept, left, open, ...row }) => ({
    ...row,
    ...{ amount: Number(amount), kept: Number(kept) },
    ...{ left: Number(left), open: Number(open) },
    wait: row.wait === null ? null : Number(row.wait),
  }));
}
