import type { NoPrice, Verdict } from "./price-for.ts";

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
