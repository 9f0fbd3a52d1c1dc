import type { FrozenStatement } from "../rules/statement.ts";
import { accountRows, needsAccount } from "../rules/statement-account.ts";

/** The steps of a statement and apart from them what they come to; nothing where it needs no sum. */
export function accountTable(statement: FrozenStatement, money: (amount: number) => string) {
  if (!needsAccount(statement)) return undefined;
  const rows = accountRows(statement).map(({ words, amount }) => ({
    words,
    amount: money(amount),
  }));
  return { steps: rows.slice(0, -1), outcome: rows.at(-1) };
}
