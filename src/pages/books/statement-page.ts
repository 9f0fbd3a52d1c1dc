import type { PayoutRow } from "../../database/payouts.ts";
import { formatMoney } from "../../rules/currency.ts";
import { dayText } from "../../rules/day.ts";
import { momentText } from "../../rules/moment.ts";
import type { Problem } from "../../rules/problem.ts";
import type { FrozenLine, FrozenStatement, PayoutMethod } from "../../rules/statement.ts";
import {
  outcomeLabels,
  outcomeOfStatement,
  payWords,
  yearWords,
} from "../../rules/statement-account.ts";
import { showTag } from "../../rules/tag-number.ts";
import { accountTable } from "../statement-account.ts";

interface Parts {
  statement: FrozenStatement;
  settlementNumber: number;
  payouts: PayoutRow[];
  values: unknown;
  problem?: Problem;
}

export const methodWords: Record<PayoutMethod, string> = {
  cheque: "Cheque",
  transfer: "Bank transfer",
  cash: "Cash",
};

/** One statement on screen, in the words and amounts of the day it was settled. */
export function statementPage({ statement, settlementNumber, payouts, values, problem }: Parts) {
  const { heading } = statement;
  const money = (amount: number) => formatMoney(amount, heading.currency, heading.locale);
  const paid = statement.payout !== null;
  const outcome = outcomeOfStatement(statement);
  return {
    title: `Statement ${statement.number}`,
    problem,
    values,
    statement,
    member: `Member ${heading.memberNumber}, ${heading.memberName}`,
    settlementHref: `/books/settlements/${statement.settlementId}`,
    settlementName: `Settlement ${settlementNumber} of ${heading.saleName}`,
    settled: momentText(statement.settledAt, heading.locale, heading.timeZone),
    gross: money(statement.gross),
    guildShare: money(statement.guildShare),
    outcome: { label: outcomeLabels[outcome.state], amount: money(outcome.amount) },
    account: accountTable(statement, money),
    payment: paid ? "" : payWords(statement),
    yearToDate: yearWords(statement),
    hasCardFee: statement.cardFee !== 0,
    hasGrounds: statement.lines.some(({ ground }) => ground !== ""),
    paid,
    canPay: !paid && statement.due > 0,
    due: money(statement.due),
    methods: Object.entries(methodWords).map(([value, label]) => ({ value, label })),
    lines: statement.lines.map((line) => lineRow(line, money, heading)),
    unsold: statement.unsold.map((item) => ({
      ...item,
      tag: showTag(item.tag),
      price: money(item.price),
    })),
    payouts: payouts.map((row) => ({
      ...row,
      method: methodWords[row.method],
      paidOn: dayText(row.paidOn, heading.locale),
      amount: money(row.amount),
      action: `/books/statements/${statement.id}/payouts/${row.id}/void`,
    })),
    notes: heading.notes,
  };
}

const lineRow = (
  line: FrozenLine,
  money: (amount: number) => string,
  { locale, timeZone }: { locale: string; timeZone: string },
) => ({
  at: momentText(line.soldAt, locale, timeZone),
  tag: showTag(line.tag),
  description: line.quantity < 0 ? `Brought back: ${line.description}` : line.description,
  quantity: line.quantity,
  amount: money(line.amount),
  ground: line.ground,
  guildShare: line.donated ? "donated" : money(line.guildShare),
  cardFee: money(line.cardFee),
  net: money(line.net),
});
