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

export function outcomeOf({ net, carried, due }: Pick<FrozenStatement, "net" | "carried" | "due">) {
  const balance = total([net, carried]);
  const outcome = (state: Outcome["state"], amount: Minor): Outcome => ({ state, amount });
  if (due > 0) return outcome("to-pay", due);
  if (balance === 0) return outcome("nothing", 0);
  return balance > 0 ? outcome("held", balance) : outcome("owed", 0 - balance);
}

/** The same in a word or three, beside the amount. */
export const outcomeLabels: Record<Outcome["state"], string> = {
  "to-pay": "To be paid",
  nothing: "To be paid",
  held: "Held for you",
  owed: "Owed to the guild",
};

/**
 * Every step of a statement: what sold, what the guild and the cards took of it, fees, pieces made
 * good, adjustments, and what was carried. The last row is what they come to.
 */
export function accountRows(statement: FrozenStatement): AccountRow[] {
  const own = statement.lines.filter(({ donated }) => !donated);
  const taken = (figure: "guildShare" | "cardFee") => 0 - total(own.map((line) => line[figure]));
  const { state, amount } = outcomeOf(statement);
  const steps = [
    { words: "Guild share", amount: taken("guildShare") },
    { words: "Part of the fee for cards", amount: taken("cardFee") },
    ...statement.items.map((item) => ({ words: countedWords(item), amount: item.amount })),
    { words: "From the statement before", amount: statement.carried },
  ];
  return [
    { words: "Sold for", amount: statement.gross },
    ...steps.filter((step) => step.amount !== 0),
    { words: outcomeLabels[state], amount },
  ];
}

const countedWords = ({ words, count }: { words: string; count: number }): string =>
  count === 1 ? words : `${words} (${count})`;

/** Where only the guild's share comes off, the totals under the lines say it all. */
export const needsAccount = ({ items, carried }: FrozenStatement): boolean =>
  items.length > 0 || carried !== 0;

/** How it is paid, or why it is not, in a sentence beside the figures. */
export function payWords(statement: FrozenStatement): string {
  const { payMethod } = statement;
  switch (outcomeOf(statement).state) {
    case "to-pay":
      return payMethod === null
        ? "No payout is recorded yet."
        : `To be paid ${byMethod[payMethod]}. No payout is recorded yet.`;
    case "nothing":
      return "Nothing is to be paid.";
    case "held":
      return "Less than the guild's smallest payment: it stays yours and is carried to your next statement.";
    case "owed":
      return "It is carried and taken off your next statement.";
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
