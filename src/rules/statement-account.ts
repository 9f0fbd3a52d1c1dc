import { formatMoney } from "./currency.ts";
import { type Minor, total } from "./money.ts";
import { byMethod, type FrozenLine, type FrozenStatement } from "./statement.ts";

/** A step from what sold to what is paid; below zero where it is taken off. */
export interface AccountRow {
  words: string;
  amount: Minor;
}

/** What a statement comes to with what was carried, and whether that is paid, kept or owed. */
export interface Outcome {
  state: "to-pay" | "nothing" | "held" | "owed";
  /** Never below zero: the state says whose it is. */
  amount: Minor;
}

/** `left` is what is not paid: above zero when it is held, below when it is owed. */
export function outcomeOf({ due, left }: { due: Minor; left: Minor }): Outcome {
  if (due > 0) return { state: "to-pay", amount: due };
  if (left === 0) return { state: "nothing", amount: 0 };
  return left > 0 ? { state: "held", amount: left } : { state: "owed", amount: 0 - left };
}

export const outcomeOfStatement = ({ net, carried, due }: FrozenStatement): Outcome =>
  outcomeOf({ due, left: total([net, carried, 0 - due]) });

/** The same in a word or three, beside the amount. */
export const outcomeLabels: Record<Outcome["state"], string> = {
  "to-pay": "To be paid",
  nothing: "To be paid",
  held: "Held",
  owed: "Owed to the guild",
};

/**
 * Every step of a statement: what sold, what the guild and the cards took of it, fees, pieces made
 * good, adjustments, and what was carried. The last row is what they come to.
 */
export function accountRows(statement: FrozenStatement): AccountRow[] {
  const own = statement.lines.filter(({ donated }) => !donated);
  const taken = (figure: "guildShare" | "cardFee") => 0 - total(own.map((line) => line[figure]));
  const { state, amount } = outcomeOfStatement(statement);
  const steps = [
    { words: "Guild share", amount: taken("guildShare") },
    { words: "Part of the fee for cards", amount: taken("cardFee") },
    ...statement.items.map(({ words, amount: added }) => ({ words, amount: added })),
    { words: "From the statement before", amount: statement.carried },
  ];
  return [
    { words: "Sold for", amount: statement.gross },
    ...steps.filter((step) => step.amount !== 0),
    { words: outcomeLabels[state], amount },
  ];
}

/** Where only the guild's share comes off, the totals under the lines say it all. */
export const needsAccount = ({ items, carried }: FrozenStatement): boolean =>
  items.length > 0 || carried !== 0;

/** How it is paid, or why it is not, in a sentence beside the figures. */
export function payWords(statement: FrozenStatement): string {
  const { payMethod } = statement;
  switch (outcomeOfStatement(statement).state) {
    case "to-pay":
      return payMethod === null
        ? "No payout is recorded yet."
        : `To be paid ${byMethod[payMethod]}. No payout is recorded yet.`;
    case "nothing":
      return "Nothing is to be paid.";
    case "held":
      return "Less than the guild's smallest payment, so it is held and carried to the next statement.";
    case "owed":
      return "It is carried and taken off the next statement.";
  }
}

/** The grounds of the percentages, each once, in the order of the lines; donated lines have none. */
export const groundsOf = (lines: readonly FrozenLine[]): string[] => [
  ...new Set(lines.flatMap(({ donated, ground }) => (donated || ground === "" ? [] : [ground]))),
];

/** "2026 so far, this statement included: …"; nothing on statements from before it was kept. */
export function yearWords({ heading }: FrozenStatement): string {
  const { yearToDate, currency, locale } = heading;
  if (!yearToDate) return "";
  const { year, gross, net } = yearToDate;
  const money = (amount: Minor) => formatMoney(amount, currency, locale);
  return `Your statements of ${year} so far, this one included: sold for ${money(gross)}, yours ${money(net)}.`;
}
