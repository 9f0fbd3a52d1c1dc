import type { FrozenStatement } from "../rules/statement.ts";
import { accountRows, needsAccount, type Outcome } from "../rules/statement-account.ts";

/** The steps of a statement and apart from them what they come to; nothing where it needs no sum. */
export function accountTable(statement: FrozenStatement, money: (amount: number) => string) {
  if (!needsAccount(statement)) return undefined;
  const rows = accountRows(statement).map(({ words, amount }) => ({
    words,
    amount: money(amount),
  }));
  return { steps: rows.slice(0, -1), outcome: rows.at(-1) };
}

const badges: Record<Outcome["state"], { text: string; kind?: string; icon?: string }> = {
  "to-pay": { text: "To be paid", kind: "wait", icon: "clock" },
  nothing: { text: "Nothing to pay" },
  held: { text: "Held", kind: "wait", icon: "clock" },
  owed: { text: "Owed to the guild", kind: "bad", icon: "warn" },
};

/** Where the money of a statement stands, beside its amount in a list. */
export const outcomeBadge = (state: Outcome["state"], paid: boolean) =>
  paid ? { text: "Paid", kind: "good", icon: "check" } : badges[state];
