import { formatMoney, rateText } from "../rules/currency.ts";
import { dayIn, dayText, spanText } from "../rules/day.ts";
import type { FrozenLine, FrozenStatement } from "../rules/statement.ts";
import { showTag } from "../rules/tag-number.ts";
import { printStatements } from "./statement.ts";
import type { Payout, StatementData, StatementLine } from "./statement-data.ts";

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
    lines: statement.lines.map((line) => lineWords(line, money, heading)),
    totals: {
      gross: money(statement.gross),
      guildShare: money(statement.guildShare),
      net: money(statement.net),
    },
    ...(statement.payout ? { payout: payoutWords(statement.payout, money, locale) } : {}),
    unsold: statement.unsold.map(({ tag, description, quantity, price }) => ({
      tag: showTag(tag),
      description,
      quantity: String(quantity),
      price: money(price),
    })),
    notes: heading.notes,
  };
}

/** A donated line keeps its figures out of the columns, so that each column adds up to its total. */
function lineWords(
  line: FrozenLine,
  money: (amount: number) => string,
  { locale, timeZone }: { locale: string; timeZone: string },
): StatementLine {
  const { amount, guildShare, net, rate, donated, quantity } = line;
  const back = quantity < 0 ? "Brought back: " : "";
  const given = donated ? ` (given to the guild, ${money(amount)})` : "";
  return {
    soldOn: dayText(dayIn(line.soldAt, timeZone), locale),
    tag: showTag(line.tag),
    description: `${back}${line.description}${given}`,
    quantity: String(quantity),
    amount: donated ? "" : money(amount),
    rate: donated ? "" : `${rateText(rate)} %`,
    guildShare: donated ? "" : money(guildShare),
    net: donated ? "" : money(net),
  };
}

function payoutWords(
  payout: NonNullable<FrozenStatement["payout"]>,
  money: (amount: number) => string,
  locale: string,
): Payout {
  const { paidOn, method, reference, amount } = payout;
  const words = { cheque: "cheque", transfer: "bank transfer", cash: "cash" };
  return {
    paidOn: dayText(paidOn, locale),
    method: words[method],
    reference: reference || "no reference",
    amount: money(amount),
  };
}
