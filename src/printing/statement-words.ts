import { formatMoney } from "../rules/currency.ts";
import { dayIn, dayText, spanText } from "../rules/day.ts";
import type { FrozenStatement } from "../rules/statement.ts";
import {
  accountRows,
  needsAccount,
  outcomeLabels,
  outcomeOfStatement,
  payWords,
  yearWords,
} from "../rules/statement-account.ts";
import { showTag } from "../rules/tag-number.ts";
import { printStatements } from "./statement.ts";
import type { Figure, StatementData } from "./statement-data.ts";
import { soldWords } from "./statement-lines.ts";

/**
 * Statements of one settlement on paper, each on pages of its own. Dated by the settlement, so
 * that a reprint is the same to the byte.
 */
export async function printFrozen(statements: readonly FrozenStatement[]): Promise<Uint8Array> {
  const [first] = statements;
  if (!first) throw new RangeError("There is no statement to print.");
  const options = { paper: first.heading.paper, createdAt: first.settledAt };
  return printStatements(statements.map(statementData), options);
}

/** A frozen statement in the words and amounts that go on paper, as its heading's locale writes them. */
export function statementData(statement: FrozenStatement): StatementData {
  const { heading } = statement;
  const { currency, locale, timeZone } = heading;
  const money = (amount: number) => formatMoney(amount, currency, locale);
  return {
    guildName: heading.guildName,
    guildLines: heading.guildLines,
    saleName: heading.saleName,
    saleDates: spanText(heading.firstDay, heading.lastDay, locale),
    statementNumber: `No. ${statement.number}`,
    issuedOn: dayText(dayIn(statement.settledAt, timeZone), locale),
    memberNumber: String(heading.memberNumber),
    memberName: heading.memberName,
    figures: figuresOf(statement, money),
    payment: paymentOf(statement, money),
    ...soldWords(statement, money),
    account: needsAccount(statement)
      ? accountRows(statement).map(({ words, amount }) => ({ words, amount: money(amount) }))
      : [],
    yearToDate: yearWords(statement),
    unsoldNote: isEarlier(statement) ? "" : "Please collect what you have not taken home yet.",
    unsold: statement.unsold.map(({ tag, description, quantity, price }) => ({
      tag: showTag(tag),
      description,
      quantity: String(quantity),
      price: money(price),
    })),
    notes: heading.notes,
    closes: !isEarlier(statement),
  };
}

type Money = (amount: number) => string;

/** Statements from before the year to date was kept go on printing as they did then. */
const isEarlier = ({ heading }: FrozenStatement): boolean => heading.yearToDate === undefined;

function figuresOf(statement: FrozenStatement, money: Money): Figure[] {
  const { gross, guildShare, net, carried } = statement;
  const { state, amount } = outcomeOfStatement(statement);
  const others = net + carried - gross + guildShare;
  return [
    { label: "Sold for", amount: money(gross) },
    { label: "Guild share", amount: money(guildShare) },
    ...(others === 0 ? [] : [{ label: "Everything else", amount: money(others) }]),
    isEarlier(statement)
      ? { label: "Yours", amount: money(net) }
      : { label: outcomeLabels[state], amount: money(amount) },
  ];
}

function paymentOf(statement: FrozenStatement, money: Money): string {
  const { payout, heading } = statement;
  if (!payout) return isEarlier(statement) ? "No payout is recorded yet." : payWords(statement);
  const { paidOn, method, reference, amount } = payout;
  const by = { cheque: "cheque", transfer: "bank transfer", cash: "cash" }[method];
  return `Paid on ${dayText(paidOn, heading.locale)} by ${by}, ${reference || "no reference"}: ${money(amount)}`;
}
