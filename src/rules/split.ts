import { assertMinor, type Minor } from "./money.ts";

interface Portion {
  position: number;
  whole: bigint;
  remainder: bigint;
}

/**
 * Splits an amount by whole weights without losing a coin (largest remainder, Hamilton's method;
 * weights that are not amounts of money may be BigInt):
 * every part is its exact share rounded down, then the coins left over go to the largest
 * fractions, ties to the earlier position. A negative amount is split by size and then negated.
 * Store the parts: splitting another total by the same weights may make a part smaller.
 * Throws when a weight is negative or all weights are zero.
 */
export function splitByLargestRemainder(
  amount: Minor,
  weights: readonly (number | bigint)[],
): Minor[] {
  const shares = weights.map((weight) =>
    typeof weight === "bigint" ? weight : BigInt(assertMinor(weight)),
  );
  if (shares.some((weight) => weight < 0n))
    throw new RangeError(`A weight must not be below zero: ${weights.join(", ")}`);
  const allWeights = shares.reduce((sum, weight) => sum + weight, 0n);
  if (allWeights === 0n) throw new RangeError("An amount cannot be split over nothing");

  const size = BigInt(Math.abs(assertMinor(amount)));
  const portions = shares.map((weight, position) => ({
    position,
    whole: (size * weight) / allWeights,
    remainder: (size * weight) % allWeights,
  }));
  const leftOver = size - portions.reduce((sum, portion) => sum + portion.whole, 0n);
  for (const portion of portions.toSorted(byFraction).slice(0, Number(leftOver)))
    portion.whole += 1n;
  return portions.map(({ whole }) => Number(amount < 0 ? -whole : whole));
}

function byFraction(one: Portion, other: Portion): number {
  if (one.remainder === other.remainder) return one.position - other.position;
  return one.remainder > other.remainder ? -1 : 1;
}
