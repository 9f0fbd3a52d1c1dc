import { dividedBy, fraction, nearestWhole, nothing, wholeBelow } from "../fraction.ts";
import type { Minor, Rate } from "../money.ts";
import type { MoneyWords } from "../policy/words/section.ts";
import { checkPrice, highestPrice, type PriceRules } from "../sale-rules.ts";
import type { Cuts } from "./cuts.ts";
import { type PieceCost, pieceCost } from "./piece-cost.ts";
import type { PossibleRate } from "./possible-rates.ts";
import { type PriceAt, type PriceRow, priceRows, shownAt } from "./price-rows.ts";
import { shiftPay } from "./shift-pay.ts";

/** What a member asks: what a piece takes, and what it is to bring. Times in minutes. */
export interface PriceQuestion {
  /** Null for the sale that is next, "none" for a place that is no sale of the guild. */
  sale: string | null;
  /** The code of its kind; empty when not chosen. */
  kind: string;
  materials: Minor;
  notions: Minor;
  setUp: number;
  weaving: number;
  finishing: number;
  overhead: Minor;
  overheadRate: Rate;
  wage: Minor;
  sellOfTen: number;
  /** How many pieces share the entry fee; null when nobody has said. */
  sharedBy: number | null;
  /** A percentage beside those of the sale. */
  rate: Rate | null;
  price: Minor | null;
  /** What the member expects to sell for in all. */
  sales: Minor | null;
}

/** What a sale lays down. Elsewhere there is no fee, and prices step by whole units. */
export interface PriceScene extends Omit<Cuts, "rate"> {
  rates: readonly PossibleRate[];
  entryFee: Minor;
  prices: PriceRules;
}

export interface PriceHelp {
  cost: PieceCost;
  /** The price that is looked at: the asked one, else the first that brings the wanted pay. */
  price: Minor | null;
  rows: (PriceRow & { atPrice: PriceAt | null })[];
  /** What the sale would not take about that price. */
  warnings: string[];
  /** What is left out of the figures. */
  notes: string[];
  shifts: { why: string; minutes: number; payPerHour: Minor }[];
}

/** Prices and pay at every percentage that may come to hold. It warns and refuses nothing. */
export function priceHelp(
  question: PriceQuestion,
  { rates: ofSale, card, tax, entryFee, prices }: PriceScene,
  money: MoneyWords,
): PriceHelp {
  const cost = pieceCost({
    ...question,
    materials: fraction(question.materials),
    entryFee: question.sharedBy
      ? dividedBy(fraction(entryFee), fraction(question.sharedBy))
      : nothing,
    minutes: fraction(question.setUp + question.weaving + question.finishing),
  });
  const rates = [...ofSale, ...typedRate(question.rate)];
  const terms = { card, tax, step: prices.priceStep, most: highestPrice(prices.currency) };
  const rows = priceRows(cost, rates, terms);
  const price = question.price ?? firstPrice(rows);
  return {
    ...{ cost, price },
    rows: rows.map((row) => {
      const cuts = { card, tax, rate: row.rate };
      return { ...row, atPrice: price === null ? null : shownAt(price, cost, cuts) };
    }),
    warnings: price === null ? [] : priceWarnings(price, prices),
    notes: entryFee > 0 && question.sharedBy === null ? [feeLeftOut(money(entryFee))] : [],
    shifts: question.sales === null ? [] : shiftsOf(rates, question.sales),
  };
}

/** What the sale would refuse about a price; until it is entered there, that is only a warning. */
export const priceWarnings = (price: Minor, prices: PriceRules): string[] =>
  checkPrice(price, prices).map(({ message }) => message);

const feeLeftOut = (fee: string): string =>
  `The entry fee of ${fee} is left out until you say how many pieces share it.`;

const typedRate = (rate: Rate | null): PossibleRate[] =>
  rate === null ? [] : [{ why: "The percentage you typed", rate, when: "typed", moreMinutes: 0 }];

const firstPrice = (rows: readonly PriceRow[]): Minor | null => {
  const found = rows.map(({ wanted }) => wanted).find((wanted) => typeof wanted !== "string");
  return found && found.price > 0 ? found.price : null;
};

/** What an hour of work at the sale saves on the way to each lower percentage. */
function shiftsOf(rates: readonly PossibleRate[], sales: Minor): PriceHelp["shifts"] {
  const now = rates.find(({ when }) => when === "now");
  if (!now) return [];
  return rates.flatMap(({ why, rate: lower, moreMinutes: minutes }) => {
    const pay = shiftPay(sales, { without: now.rate, lower, minutes });
    return pay ? [{ why, minutes, payPerHour: Number(wholeBelow(pay)) }] : [];
  });
}

/** The parts of a cost in whole coins, each rounded by itself. */
export const costFigures = (parts: PieceCost) => ({
  materials: Number(nearestWhole(parts.materials)),
  notions: Number(nearestWhole(parts.notions)),
  overhead: Number(nearestWhole(parts.overhead)),
  entryFee: Number(nearestWhole(parts.entryFee)),
  unsold: Number(nearestWhole(parts.unsold)),
  cost: Number(nearestWhole(parts.cost)),
  labour: Number(nearestWhole(parts.labour)),
});
