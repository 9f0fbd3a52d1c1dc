/** A share to be printed; the name decides a tie, as a reader would expect by the alphabet. */
export interface Weighed {
  name: string;
  weight: bigint;
}

export interface PrintedShares {
  /** One per share, in the order given; together they make 100 with `decimals` decimals. */
  units: bigint[];
  decimals: number;
}

const mostDecimals = 3;

/**
 * Printed percentages that make exactly 100, by largest remainder; ties to the larger share, then
 * by the alphabet (house rule: the laws set no way of rounding). Where a share is below 1 % all
 * are printed with as many decimals as it takes to show it, so that a blend never reads 100 % and
 * a trace of wool is not overstated. Null when a share is below a thousandth of a percent.
 * Throws unless every weight is above zero.
 */
export function printedShares(shares: readonly Weighed[]): PrintedShares | null {
  if (shares.length === 0 || shares.some(({ weight }) => weight <= 0n))
    throw new RangeError("Only weights above zero can be printed as shares");
  const total = shares.reduce((sum, { weight }) => sum + weight, 0n);
  const needsDecimals = shares.some(({ weight }) => weight * 100n < total);
  for (let decimals = needsDecimals ? 1 : 0; decimals <= mostDecimals; decimals += 1) {
    const units = byLargestRemainder(shares, total, 100n * 10n ** BigInt(decimals));
    if (units.every((unit) => unit > 0n)) return { units, decimals };
  }
  return null;
}

function byLargestRemainder(shares: readonly Weighed[], total: bigint, whole: bigint): bigint[] {
  const units = shares.map(({ weight }) => (weight * whole) / total);
  const leftOver = whole - units.reduce((sum, unit) => sum + unit, 0n);
  const ranked = shares
    .map(({ name, weight }, place) => ({ name, weight, place, rest: (weight * whole) % total }))
    .sort((one, other) => {
      if (one.rest !== other.rest) return one.rest > other.rest ? -1 : 1;
      if (one.weight !== other.weight) return one.weight > other.weight ? -1 : 1;
      return one.name < other.name ? -1 : 1;
    });
  for (const { place } of ranked.slice(0, Number(leftOver))) units[place]! += 1n;
  return units;
}

/** "99.6" from 996 units with one decimal; the mark is the language's own. */
export function shareNumber(units: bigint, decimals: number, mark: string): string {
  if (decimals === 0) return String(units);
  const digits = String(units).padStart(decimals + 1, "0");
  return `${digits.slice(0, -decimals)}${mark}${digits.slice(-decimals)}`;
}
