/** An exact share: nothing is rounded until a figure is printed. `bottom` is above zero. */
export interface Fraction {
  top: bigint;
  bottom: bigint;
}

/** A fraction in lowest terms; throws for a bottom of zero. */
export function fraction(top: bigint | number, bottom: bigint | number = 1n): Fraction {
  const [over, under] = [BigInt(top), BigInt(bottom)];
  if (under === 0n) throw new RangeError("A fraction cannot have nothing below its line");
  const divisor = greatestDivisor(over, under) * (under < 0n ? -1n : 1n);
  return { top: over / divisor, bottom: under / divisor };
}

export const plus = (one: Fraction, other: Fraction): Fraction =>
  fraction(one.top * other.bottom + other.top * one.bottom, one.bottom * other.bottom);

export const times = (one: Fraction, other: Fraction): Fraction =>
  fraction(one.top * other.top, one.bottom * other.bottom);

export const dividedBy = (one: Fraction, other: Fraction): Fraction =>
  fraction(one.top * other.bottom, one.bottom * other.top);

export const isLess = (one: Fraction, other: Fraction): boolean =>
  one.top * other.bottom < other.top * one.bottom;

/** The largest whole number that divides both; never zero. */
export function greatestDivisor(one: bigint, other: bigint): bigint {
  let [left, right] = [one < 0n ? -one : one, other < 0n ? -other : other];
  while (right > 0n) [left, right] = [right, left % right];
  return left === 0n ? 1n : left;
}

export const minus = (one: Fraction, other: Fraction): Fraction =>
  fraction(one.top * other.bottom - other.top * one.bottom, one.bottom * other.bottom);

export const nothing: Fraction = { top: 0n, bottom: 1n };

export const sumOf = (all: readonly Fraction[]): Fraction => all.reduce(plus, nothing);

/** The largest whole number that is not above it, also below zero. */
export function wholeBelow({ top, bottom }: Fraction): bigint {
  const cut = top / bottom;
  return top < 0n && cut * bottom !== top ? cut - 1n : cut;
}

/** The smallest whole number that is not below it. */
export const wholeAbove = ({ top, bottom }: Fraction): bigint => -wholeBelow({ top: -top, bottom });

/** The nearest whole number, halves away from zero. */
export const nearestWhole = (one: Fraction): bigint =>
  one.top < 0n
    ? -nearestWhole({ ...one, top: -one.top })
    : wholeBelow(plus(one, { top: 1n, bottom: 2n }));
