import { assertMinor, type Minor, type Rate, share, total } from "./money.ts";
import { splitByLargestRemainder } from "./split.ts";

/** `amount` is the price of a line's pieces before any discount; `allowed` is its owner's word. */
export interface LineToMarkDown {
  amount: Minor;
  allowed: boolean;
}

/**
 * The last-day markdown: a share of all lines whose owners allow it, rounded half up once, as one
 * discount for each line. Tax comes afterwards, on what is left (a seller's own discount lowers
 * the price that is taxed: the Streamlined agreement's "sales price"). Throws for a bad rate.
 */
export const markdown = (lines: readonly LineToMarkDown[], rate: Rate): Minor[] =>
  spreadDiscount(share(discountable(lines), rate), lines);

/**
 * Spreads a discount over the lines that allow it, by largest remainder, so that its parts add up
 * to it and none is above its line. Throws below zero and above `discountable(lines)`.
 */
export function spreadDiscount(amount: Minor, lines: readonly LineToMarkDown[]): Minor[] {
  if (assertMinor(amount) < 0 || amount > discountable(lines))
    throw new RangeError(`A discount of ${amount} does not fit these lines`);
  if (amount === 0) return lines.map(() => 0);
  return splitByLargestRemainder(amount, lines.map(openTo));
}

/** The most that can come off these lines. */
export const discountable = (lines: readonly LineToMarkDown[]): Minor => total(lines.map(openTo));

const openTo = ({ amount, allowed }: LineToMarkDown): Minor => (allowed ? amount : 0);
