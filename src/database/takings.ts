import type { Transaction } from "./client.ts";

export interface TenderTakings {
  tillNumber: number;
  tillName: string;
  kind: string;
  amount: number;
}

/** Where the pieces and the money of one sale are; amounts in smallest coins. */
export interface Takings {
  saleId: string;
  pieces: {
    entered: number;
    withMember: number;
    onFloor: number;
    withBuyer: number;
    withGuild: number;
    lost: number;
    unaccounted: number;
  };
  receipts: number;
  tenders: TenderTakings[];
  taken: number;
  tax: number;
  /** Sold for members, and for the guild alone. */
  gross: number;
  donated: number;
  /** The guild's own goods, and what turned out to be the guild's. */
  guildGoods: number;
  /** Taken for pieces whose owner is not known yet. */
  suspense: number;
  /** What cash rounding brought in; below zero when it cost something. */
  rounding: number;
  /** Settled so far: the share, what members bear of card fees, other fees, pieces made good. */
  guildShare: number;
  cardFee: number;
  fees: number;
  losses: number;
  /** By somebody's decision; above zero for the members. */
  adjustments: number;
  paidOut: number;
  /** What stands on the members' accounts from this sale. */
  owed: number;
  /** Gross of lines that no statement holds yet. */
  notSettled: number;
  /** What the drawers had too much; below zero when cash was missing. */
  overShort: number;
  unaccounted: number;
}

/**
 * Takings are read from receipts, tenders and statements, but `owed` from the ledger: whatever the
 * two say differently is unaccounted for.
 */
export async function takingsOf(db: Transaction, saleId: string): Promise<Takings> {
  const pieces = await piecesOf(db, saleId);
  const tenders = await tendersOf(db, saleId);
  const figures = await figuresOf(db, saleId);
  const taken = tenders.reduce((sum, { amount }) => sum + amount, 0);
  const { tax, donated, guildGoods, suspense, rounding, guildShare, paidOut, owed } = figures;
  const { cardFee, fees, losses, adjustments } = figures;
  const settled = guildShare + cardFee + fees - losses - adjustments;
  const guilds = tax + donated + guildGoods + suspense + rounding + settled;
  const unaccounted = taken - guilds - paidOut - owed;
  return { saleId, pieces, tenders, taken, ...figures, unaccounted };
}

async function piecesOf(db: Transaction, saleId: string): Promise<Takings["pieces"]> {
  const [row] = await db.$queryRaw<[Takings["pieces"]]>`
    SELECT coalesce(sum(c.entered), 0)::integer AS entered, coalesce(sum(c.with_member), 0)::integer AS "withMember",
      coalesce(sum(c.on_floor), 0)::integer AS "onFloor", coalesce(sum(c.with_buyer), 0)::integer AS "withBuyer",
      coalesce(sum(c.with_guild), 0)::integer AS "withGuild", coalesce(sum(c.lost), 0)::integer AS lost,
      coalesce(sum(c.entered - c.with_member - c.on_floor - c.with_buyer - c.with_guild - c.lost), 0)::integer
        AS unaccounted
    FROM item i JOIN item_count c ON c.item_id = i.id
    WHERE i.sale_id = ${saleId}::uuid`;
  return row;
}

/** What each till took by each way of paying; returns are taken off. */
export async function tendersOf(db: Transaction, saleId: string): Promise<TenderTakings[]> {
  const rows = await db.$queryRaw<(Omit<TenderTakings, "amount"> & { amount: bigint })[]>`
    SELECT t.number AS "tillNumber", t.name AS "tillName", o.kind, sum(o.amount)::bigint AS amount
    FROM receipt r JOIN till t ON t.id = r.till_id JOIN receipt_tender o ON o.receipt_id = r.id
    WHERE r.sale_id = ${saleId}::uuid
    GROUP BY t.number, t.name, o.kind
    ORDER BY t.number, array_position(ARRAY['cash', 'cheque', 'card', 'other', 'exchange'], o.kind)`;
  return rows.map((row) => ({ ...row, amount: Number(row.amount) }));
}

type Figures = Omit<Takings, "saleId" | "pieces" | "tenders" | "taken" | "unaccounted">;

async function figuresOf(db: Transaction, saleId: string): Promise<Figures> {
  const [row] = await db.$queryRaw<[Record<keyof Figures, bigint>]>`
    WITH sold AS (
      SELECT coalesce(sum(l.amount) FILTER (WHERE NOT l.donated), 0) AS gross,
        coalesce(sum(l.amount) FILTER (WHERE NOT l.donated AND t.receipt_line_id IS NULL), 0) AS open
      FROM receipt r JOIN credited_line l ON l.receipt_id = r.id
      LEFT JOIN statement_line t ON t.receipt_line_id = l.id
      WHERE r.sale_id = ${saleId}::uuid),
    others AS (
      SELECT coalesce(sum(l.tax), 0) AS tax,
        coalesce(sum(l.amount) FILTER (WHERE l.suspended AND i.line_id IS NULL), 0) AS suspense,
        coalesce(sum(l.amount) FILTER (WHERE NOT l.suspended AND l.donated), 0) AS donated,
        coalesce(sum(l.amount) FILTER (WHERE CASE WHEN l.suspended THEN i.line_id IS NOT NULL AND i.member_id IS NULL
          ELSE NOT l.donated AND l.kind = 'goods' END), 0) AS guild_goods
      FROM receipt r JOIN receipt_line l ON l.receipt_id = r.id LEFT JOIN identified i ON i.line_id = l.id
      WHERE r.sale_id = ${saleId}::uuid),
    settled AS (
      SELECT coalesce(sum(guild_share), 0) AS share, coalesce(sum(card_fee), 0) AS card_fee,
        coalesce(sum(fees), 0) AS fees, coalesce(sum(losses), 0) AS losses
      FROM settlement WHERE sale_id = ${saleId}::uuid),
    adjusted AS (SELECT coalesce(sum(amount), 0) AS amount FROM adjustment WHERE sale_id = ${saleId}::uuid),
    rounded AS (SELECT coalesce(sum(rounding), 0) AS amount FROM receipt WHERE sale_id = ${saleId}::uuid),
    paid AS (
      SELECT coalesce(sum(p.amount), 0) AS amount FROM payout p
      JOIN statement s ON s.id = p.statement_id JOIN settlement e ON e.id = s.settlement_id
      WHERE e.sale_id = ${saleId}::uuid AND NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id)),
    owed AS (
      SELECT coalesce(-sum(p.amount), 0) AS amount FROM posting p JOIN journal_entry e ON e.id = p.entry_id
      WHERE e.sale_id = ${saleId}::uuid AND p.account_key LIKE 'member/%'),
    drawers AS (
      SELECT coalesce(sum(u.difference), 0) AS amount FROM cash_up u
      JOIN till_session n ON n.id = u.till_session_id JOIN till t ON t.id = n.till_id
      WHERE t.sale_id = ${saleId}::uuid)
    SELECT (SELECT count(*) FROM receipt WHERE sale_id = ${saleId}::uuid) AS receipts,
      others.tax::bigint AS tax, sold.gross::bigint AS gross, others.donated::bigint AS donated,
      others.guild_goods::bigint AS "guildGoods", others.suspense::bigint AS suspense, rounded.amount::bigint AS rounding,
      sold.open::bigint AS "notSettled", settled.share::bigint AS "guildShare",
      settled.card_fee::bigint AS "cardFee", settled.fees::bigint AS fees, settled.losses::bigint AS losses,
      adjusted.amount::bigint AS adjustments, paid.amount::bigint AS "paidOut",
      owed.amount::bigint AS owed, drawers.amount::bigint AS "overShort"
    FROM sold, others, settled, adjusted, rounded, paid, owed, drawers`;
  return Object.fromEntries(
    Object.entries(row).map(([name, amount]) => [name, Number(amount)]),
  ) as Figures;
}
