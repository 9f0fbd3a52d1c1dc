import type {
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
  const unsold = byStatement(await frozenUnsold(db, ids));
  return heads.map(({ settlement, payouts, heading, ...head }) => ({
    id: head.id,
    number: head.number,
    memberId: head.memberId,
    settlementId: settlement.id,
    saleId: settlement.saleId,
    settledAt: settlement.at,
    heading: heading as unknown as StatementHeading,
    gross: Number(head.gross),
    guildShare: Number(head.guildShare),
    net: Number(head.net),
    lines: (lines.get(head.id) ?? []).map(lineOf),
    unsold: (unsold.get(head.id) ?? []).map(({ tag, description, quantity, price }) => ({
      tag,
      description,
      quantity,
      price: Number(price),
    })),
    payout: payouts[0] ? payoutOf(payouts[0]) : null,
  }));
}

/** A list of ids as one array parameter: a parameter for each would pass the driver's limit. */
const frozenLines = (db: Transaction, ids: string[]) => db.$queryRaw<LineRow[]>`
  SELECT statement_id AS "statementId", sold_at AS "soldAt", tag, description, quantity, amount, rate,
    guild_share AS "guildShare", net, donated
  FROM statement_line WHERE statement_id = ANY (${ids}::uuid[]) ORDER BY statement_id, position`;

const frozenUnsold = (db: Transaction, ids: string[]) => db.$queryRaw<UnsoldRow[]>`
  SELECT statement_id AS "statementId", tag, description, quantity, price
  FROM statement_unsold WHERE statement_id = ANY (${ids}::uuid[]) ORDER BY statement_id, position`;

interface LineRow extends Omit<FrozenLine, "amount" | "guildShare" | "net"> {
  statementId: string;
  amount: bigint;
  guildShare: bigint;
  net: bigint;
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
  net: Number(row.net),
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
