import type { Minor } from "../rules/money.ts";
import type {
  FrozenItem,
  FrozenLine,
  FrozenStatement,
  PayoutMethod,
  StatementHeading,
} from "../rules/statement.ts";
import type { Transaction } from "./client.ts";

/** Which statements: one, those of a settlement, or one of a member's own. */
export interface WhichStatements {
  id?: string;
  settlementId?: string;
  memberId?: string;
  /** Only those whose member has no e-mail address now. */
  member?: { email: null };
}

/**
 * Statements whole, by member number, from the frozen rows alone: nothing that changed since the
 * settlement shows. A payout that stands is added, for the member to see how it was paid.
 */
export async function gatherStatements(
  db: Transaction,
  which: WhichStatements,
): Promise<FrozenStatement[]> {
  const heads = await db.statement.findMany({
    where: { ...which },
    include: { settlement: true, payouts: { where: { voided: null } } },
    orderBy: { number: "asc" },
  });
  const ids = heads.map(({ id }) => id);
  const lines = byStatement(await frozenLines(db, ids));
  const items = byStatement(await frozenItems(db, ids));
  const unsold = byStatement(await frozenUnsold(db, ids));
  return heads.map(({ settlement, payouts, heading, ...head }) => ({
    id: head.id,
    number: head.number,
    memberId: head.memberId,
    settlementId: settlement.id,
    saleId: settlement.saleId,
    settledAt: settlement.at,
    heading: heading as unknown as StatementHeading,
    ...figuresOf(head),
    payMethod: head.payMethod as PayoutMethod | null,
    lines: (lines.get(head.id) ?? []).map(lineOf),
    items: (items.get(head.id) ?? []).map(itemOf),
    unsold: (unsold.get(head.id) ?? []).map(({ tag, description, quantity, price }) => ({
      tag,
      description,
      quantity,
      price: Number(price),
    })),
    payout: payouts[0] ? payoutOf(payouts[0]) : null,
  }));
}

const figureNames = [
  ...(["gross", "guildShare", "cardFee", "fees", "losses", "adjustments"] as const),
  ...(["net", "carried", "due"] as const),
] as const;

type Figure = (typeof figureNames)[number];

const figuresOf = (head: Record<Figure, bigint>) =>
  Object.fromEntries(figureNames.map((name) => [name, Number(head[name])])) as Record<
    Figure,
    number
  >;

/** A list of ids as one array parameter: a parameter for each would pass the driver's limit. */
const frozenLines = (db: Transaction, ids: string[]) => db.$queryRaw<LineRow[]>`
  SELECT statement_id AS "statementId", sold_at AS "soldAt", tag, description, quantity, amount, rate, ground,
    guild_share AS "guildShare", card_fee AS "cardFee", net, donated
  FROM statement_line WHERE statement_id = ANY (${ids}::uuid[]) ORDER BY statement_id, position`;

const frozenItems = (db: Transaction, ids: string[]) => db.$queryRaw<ItemRow[]>`
  SELECT statement_id AS "statementId", kind, words, count, amount
  FROM statement_item WHERE statement_id = ANY (${ids}::uuid[]) ORDER BY statement_id, position`;

const frozenUnsold = (db: Transaction, ids: string[]) => db.$queryRaw<UnsoldRow[]>`
  SELECT statement_id AS "statementId", tag, description, quantity, price
  FROM statement_unsold WHERE statement_id = ANY (${ids}::uuid[]) ORDER BY statement_id, position`;

interface LineRow extends Omit<FrozenLine, "amount" | "guildShare" | "cardFee" | "net"> {
  statementId: string;
  amount: bigint;
  guildShare: bigint;
  cardFee: bigint;
  net: bigint;
}

interface ItemRow extends Omit<FrozenItem, "amount"> {
  statementId: string;
  amount: bigint;
}

interface UnsoldRow {
  statementId: string;
  tag: string;
  description: string;
  quantity: number;
  price: bigint;
}

const lineOf = ({ statementId: _inside, ...row }: LineRow): FrozenLine => ({
  ...row,
  amount: Number(row.amount),
  guildShare: Number(row.guildShare),
  cardFee: Number(row.cardFee),
  net: Number(row.net),
});

const itemOf = ({ statementId: _inside, ...row }: ItemRow): FrozenItem => ({
  ...row,
  amount: Number(row.amount),
});

const payoutOf = (row: { paidOn: Date; method: string; reference: string; amount: bigint }) => ({
  paidOn: row.paidOn.toISOString().slice(0, 10),
  method: row.method as PayoutMethod,
  reference: row.reference,
  amount: Number(row.amount),
});

function byStatement<Row extends { statementId: string }>(rows: Row[]): Map<string, Row[]> {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const group = groups.get(row.statementId);
    if (group) group.push(row);
    else groups.set(row.statementId, [row]);
  }
  return groups;
}

/**
 * What members' statements of a calendar year came to so far, by member; nobody's is left out of
 * the year that the guild's own clock showed when it was settled. Members without any are missing.
 */
export async function yearToDateOf(
  tx: Transaction,
  memberIds: readonly string[],
  year: number,
): Promise<Map<string, { gross: Minor; net: Minor }>> {
  const rows = await tx.$queryRaw<{ memberId: string; gross: bigint; net: bigint }[]>`
    SELECT d.member_id AS "memberId", sum(d.gross)::bigint AS gross, sum(d.net)::bigint AS net
    FROM statement d JOIN settlement s ON s.id = d.settlement_id CROSS JOIN guild g
    WHERE d.member_id = ANY (${[...memberIds]}::uuid[])
      AND extract(year FROM s.at AT TIME ZONE g.time_zone) = ${year}
    GROUP BY d.member_id`;
  return new Map(
    rows.map(({ memberId, gross, net }) => [memberId, { gross: Number(gross), net: Number(net) }]),
  );
}
