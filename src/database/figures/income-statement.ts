import type { Transaction } from "../client.ts";

export interface IncomeLine {
  account: string;
  name: string;
  /** What the guild gained by it; below zero when it cost something. */
  amount: number;
}

/** What a sale brought the guild itself: the members' money is no part of it. */
export interface IncomeStatement {
  income: IncomeLine[];
  expenses: IncomeLine[];
  result: number;
  /** What the sale left in hand and at the bank, and what of it is others'. */
  assets: number;
  owed: number;
  /** The result found from the other side, what is held less what is owed, is the same. */
  agrees: boolean;
}

/** In this order first, because treasurers read it so; any other account comes after. */
const order = [
  ...["guild-share", "fees", "guild-goods", "donations", "paid-in", "cash-rounding"],
  ...["losses", "adjustments", "card-fees", "over-short", "paid-out"],
];

/** Straight from the ledger; an account is left out when nothing was ever put on it. */
export async function incomeStatement(db: Transaction, saleId: string): Promise<IncomeStatement> {
  const rows = await db.$queryRaw<
    { account: string; name: string; kind: string; amount: bigint }[]
  >`
    SELECT a.key AS account, a.name, a.kind, -sum(p.amount)::bigint AS amount
    FROM posting p JOIN journal_entry e ON e.id = p.entry_id JOIN account a ON a.key = p.account_key
    WHERE e.sale_id = ${saleId}::uuid AND a.kind IN ('income', 'expense')
    GROUP BY a.key ORDER BY array_position(${order}::text[], a.key), a.key`;
  const lines = rows.map((row) => ({ ...row, amount: Number(row.amount) }));
  const ofKind = (wanted: string): IncomeLine[] =>
    lines.flatMap(({ kind, ...line }) => (kind === wanted ? [line] : []));
  const result = lines.reduce((sum, { amount }) => sum + amount, 0);
  const { assets, owed } = await heldAndOwed(db, saleId);
  const agrees = assets - owed === result;
  return { income: ofKind("income"), expenses: ofKind("expense"), result, assets, owed, agrees };
}

async function heldAndOwed(db: Transaction, saleId: string) {
  const [row] = await db.$queryRaw<[{ assets: bigint; owed: bigint }]>`
    SELECT coalesce(sum(p.amount) FILTER (WHERE a.kind = 'asset'), 0)::bigint AS assets,
      coalesce(-sum(p.amount) FILTER (WHERE a.kind = 'liability'), 0)::bigint AS owed
    FROM posting p JOIN journal_entry e ON e.id = p.entry_id JOIN account a ON a.key = p.account_key
    WHERE e.sale_id = ${saleId}::uuid`;
  return { assets: Number(row.assets), owed: Number(row.owed) };
}
