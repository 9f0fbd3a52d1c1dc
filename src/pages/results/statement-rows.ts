import type { Database } from "../../database/client.ts";
import type { SaleResult, StatementResult } from "../../database/results.ts";
import { gatherStatements } from "../../database/statements.ts";
import { formatMoney } from "../../rules/currency.ts";
import { groundsOf, outcomeOf, payWords, yearWords } from "../../rules/statement-account.ts";
import { accountTable, outcomeBadge } from "../statement-account.ts";

type Money = (amount: number) => string;

/** A statement in the member's list: what it comes to, and whether that is paid, held or owed. */
export function statementRow(one: StatementResult, money: Money) {
  const { state, amount } = outcomeOf(one);
  return {
    number: one.number,
    href: `/results/statements/${one.id}/pdf`,
    amount: money(amount),
    badge: outcomeBadge(state, one.paid),
  };
}

/** A member's statements of one sale with every step, as on paper. */
export async function explained(db: Database, { statements }: SaleResult, memberId: string) {
  if (statements.length === 0) return [];
  const frozen = await gatherStatements(db, { memberId });
  return frozen.flatMap((one) => {
    const result = statements.find(({ id }) => id === one.id);
    if (!result) return [];
    const { currency, locale } = one.heading;
    const money = (amount: number) => formatMoney(amount, currency, locale);
    const payment = one.payout ? "" : payWords(one);
    const account = accountTable(one, money);
    const words = { payment, grounds: groundsOf(one.lines), account, yearToDate: yearWords(one) };
    return { ...statementRow(result, money), ...words };
  });
}
