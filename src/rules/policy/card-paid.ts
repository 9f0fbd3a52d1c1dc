import { type Minor, total } from "../money.ts";
import { splitByLargestRemainder } from "../split.ts";

/** A sold line's price and the tax added to it, in smallest coins. */
export interface PriceAndTax {
  price: Minor;
  tax: Minor;
}

/**
 * How much of each line of a receipt its card tender paid, by largest remainder over prices and
 * taxes together; no part is more than what it pays for. Throws when the card paid more than the
 * receipt comes to, or less than nothing.
 */
export function cardPaidParts(card: Minor, lines: readonly PriceAndTax[]): PriceAndTax[] {
  const weights = lines.flatMap(({ price, tax }) => [price, tax]);
  if (card < 0 || card > total(weights))
    throw new RangeError(`A card cannot pay ${card} of ${total(weights)}`);
  if (card === 0) return lines.map(() => ({ price: 0, tax: 0 }));
  const parts = splitByLargestRemainder(card, weights);
  return lines.map((_, index) => ({ price: parts[2 * index]!, tax: parts[2 * index + 1]! }));
}
