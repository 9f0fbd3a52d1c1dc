import type { MoneyWords } from "../policy/words/section.ts";
import type { NoPrice, Verdict } from "./price-for.ts";
import type { PriceAt } from "./price-rows.ts";

/** How a price does, in the words of the page. */
export const verdictWords: Readonly<Record<Verdict, string>> = {
  pays: "Pays what you want",
  "below-wage": "Less than you want",
  "below-cost": "Less than it costs you",
  "no-hours": "No hours given",
};

export const noPriceWords: Readonly<Record<NoPrice, string>> = {
  "nothing-left": "Nothing would be left for you",
  "too-high": "More than the highest price that can be entered",
};

/** A price taken apart, as it stands in the cells of a row. */
export const priceCells = ({ guild, cardFee, left, pay, verdict }: PriceAt, money: MoneyWords) => ({
  guild: money(guild),
  cardFee: money(cardFee),
  left: money(left),
  pay: pay === null ? "no hours given" : money(pay),
  verdict: verdictWords[verdict],
});
