import type { LabelContent } from "../rules/labels/label-content.ts";
import { fitLabel, type Purpose, partWords } from "./fit-label.ts";
import type { TooFull } from "./labels/run.ts";
import { type Stock, type StockName, stockOf, stocks } from "./stock.ts";

/** So many are named one by one; a whole sale's would fill the page. */
const mostNamed = 5;

/** Why nothing was printed and what would help, for labels that have no room for what must be on. */
export function tooFullWords(
  full: readonly TooFull[],
  labels: readonly LabelContent[],
  stock: StockName | Stock,
  purpose: Purpose,
): string {
  const unique = [...new Map(full.map((one) => [one.tag, one])).values()];
  const named = unique
    .slice(0, mostNamed)
    .map(
      ({ shownTag, missing }) =>
        `${shownTag} (${missing.map((part) => partWords[part]).join(", ")})`,
    );
  const more = unique.length > mostNamed ? ` and ${unique.length - mostNamed} more` : "";
  const first = labels.find(({ tag }) => tag === unique[0]?.tag);
  const fit = first && fitLabel(first, stock, purpose);
  const larger = fit && !fit.fits && isName(fit.suggestion) ? stocks[fit.suggestion].words : "";
  const help = larger
    ? `Choose "${larger}", or let a full label go on to a second one.`
    : "Choose a larger label, or let a full label go on to a second one.";
  return `On "${stockOf(stock).words}" there is no room on ${named.join("; ")}${more}. ${help}`;
}

const isName = (text: string): text is StockName => Object.hasOwn(stocks, text);
