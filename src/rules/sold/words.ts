import type { Minor } from "../money.ts";
import { hoursText } from "../shifts/shift-words.ts";
import type { PayPerHour, SoldFigures } from "./figures.ts";
import { partWords } from "./small-counts.ts";
import { withinWords } from "./wait.ts";

type Money = (amount: Minor) => string;

/** "13 of 14 (93 %), 2 elsewhere": what sold of what was entered, and what sold beside that. */
export function soldWords({ entered, soldHere, soldElsewhere }: SoldFigures): string {
  const here = entered > 0 || soldHere > 0 ? [partWords(soldHere, entered)] : [];
  const away = soldElsewhere > 0 ? [`${soldElsewhere} elsewhere`] : [];
  return [...here, ...away].join(", ") || "0";
}

/** The figures of a group as a row of a table; what is not known stays empty. */
export const figureCells = (figures: SoldFigures, money: Money) => ({
  sold: soldWords(figures),
  average: figures.averagePrice === null ? "" : money(figures.averagePrice),
  takings: money(figures.takings),
  kept: money(figures.kept),
  left: money(figures.left),
  open: figures.open === 0 ? "" : money(figures.open),
  pay: payCell(figures.pay, money),
});

const payCell = ({ perHour, pieces }: PayPerHour, money: Money): string =>
  perHour === null ? "" : `${money(perHour)} (${pieces})`;

export const piecesWords = (count: number): string => (count === 1 ? "1 piece" : `${count} pieces`);

/** What the pay of an hour rests on, so that nobody takes it for more than it is. */
export function payNote({ pay, sold, given }: SoldFigures): string {
  const { pieces, minutes, withoutMaterials } = pay;
  if (pieces === 0)
    return "Note the hours of a piece on its own page; once its share is settled you see here what an hour brought.";
  const missing =
    withoutMaterials > 0
      ? ` For ${withoutMaterials} of them no materials are noted, so they count as free.`
      : "";
  return `An hour's pay is from ${pieces} of ${sold - given} sold pieces, those whose hours are noted and whose share is settled: ${hoursText(minutes)} together. Materials are taken off.${missing}`;
}

/** How soon pieces sold, or nothing where no time is known. */
export const soonWords = ({ halfWithin, timed }: SoldFigures): string =>
  halfWithin === null
    ? ""
    : `Of ${piecesWords(timed)} with a known time at least half sold ${withinWords(halfWithin)} of the opening, or of coming to the desk later.`;

/** What was a gift to the guild, which no figure of the member's own holds. */
export function givenWords({ given, givenAmount }: SoldFigures, money: Money): string {
  if (given === 0) return "";
  const were = given === 1 ? "was a gift" : "were gifts";
  return `${piecesWords(given)} of those sold ${were} to the guild and brought it ${money(givenAmount)}. The average price and all amounts here leave that out.`;
}
