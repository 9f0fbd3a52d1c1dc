/** A whole number of the currency's smallest coins (cents, say), always a safe integer. */
export type Minor = number;

/** Thousandths of a percent, whole: 8.875 % is 8875, 100 % is 100000. */
export type Rate = number;

export const wholeRate = 100_000;

export const isMinor = (value: unknown): value is Minor => Number.isSafeInteger(value);

export const isRate = (value: unknown): value is Rate =>
  isMinor(value) && value >= 0 && value <= wholeRate;

/** Adds up amounts; throws when an amount or the sum is not a safe integer. */
export function total(amounts: readonly Minor[]): Minor {
  let sum = 0;
  for (const amount of amounts) sum = assertMinor(sum + assertMinor(amount));
  return sum;
}

/**
 * Quotient of two whole numbers, halves away from zero: the rounding of sales tax law
 * (Streamlined Sales and Use Tax Agreement, section 324). Throws unless the denominator is above
 * zero and the quotient a safe integer.
 */
export function divideHalfUp(numerator: bigint, denominator: bigint): number {
  const { quotient, remainder, negative } = divideSizes(numerator, denominator);
  const size = 2n * remainder >= denominator ? quotient + 1n : quotient;
  return toMinor(negative ? -size : size);
}

/** Quotient of two whole numbers, halves to the even neighbour; throws as `divideHalfUp` does. */
export function divideHalfEven(numerator: bigint, denominator: bigint): number {
  const { quotient, remainder, negative } = divideSizes(numerator, denominator);
  const isHalf = 2n * remainder === denominator;
  const up = isHalf ? quotient % 2n === 1n : 2n * remainder > denominator;
  const size = up ? quotient + 1n : quotient;
  return toMinor(negative ? -size : size);
}

/** The part of an amount that a rate gives, half up away from zero; throws on unsafe input. */
export function share(amount: Minor, rate: Rate): Minor {
  if (!isRate(rate)) throw new RangeError(`A rate must lie between 0 and ${wholeRate}: ${rate}`);
  return divideHalfUp(BigInt(assertMinor(amount)) * BigInt(rate), BigInt(wholeRate));
}

/**
 * The exact share of `now` pieces in an amount stored for `quantity` pieces, of which
 * `alreadyReturned` came back before. Each step takes the difference of two cumulative shares, so
 * the steps of returning every piece always add up to what was stored, in whatever order.
 */
export function partOf(
  stored: Minor,
  quantity: number,
  alreadyReturned: number,
  now: number,
): Minor {
  const counts = [quantity, alreadyReturned, now];
  if (!counts.every((count) => isMinor(count) && count >= 0) || quantity === 0)
    throw new RangeError(`Pieces must be whole numbers, not below zero: ${counts.join(", ")}`);
  if (alreadyReturned + now > quantity)
    throw new RangeError(`Only ${quantity - alreadyReturned} of ${quantity} are left, not ${now}`);
  const upTo = (pieces: number) =>
    divideHalfUp(BigInt(assertMinor(stored)) * BigInt(pieces), BigInt(quantity));
  return upTo(alreadyReturned + now) - upTo(alreadyReturned);
}

export function assertMinor(value: number): Minor {
  if (!isMinor(value)) throw new RangeError(`Not a whole, safe amount of money: ${value}`);
  return value;
}

/** The way back from a BigInt; adding nothing else keeps zero free of a minus sign. */
function toMinor(value: bigint): Minor {
  return assertMinor(Number(value));
}

function divideSizes(numerator: bigint, denominator: bigint) {
  if (denominator <= 0n) throw new RangeError(`Cannot divide by ${denominator}`);
  const negative = numerator < 0n;
  const size = negative ? -numerator : numerator;
  return { quotient: size / denominator, remainder: size % denominator, negative };
}
