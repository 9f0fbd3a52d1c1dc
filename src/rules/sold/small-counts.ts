import { divideHalfUp } from "../money.ts";

/** Below this many a percentage would say more than the pieces do: one towel is a tenth of ten. */
export const leastForPercent = 10;

/**
 * "3 of 9", and from ten on "13 of 14 (93 %)". A percentage is 0 or 100 only when it is exactly
 * that. More than all of it, as a piece without its tag can make it, stays a count.
 */
export function partWords(part: number, whole: number): string {
  const counts = `${part} of ${whole}`;
  const percent = percentOf(part, whole);
  return percent === null ? counts : `${counts} (${percent} %)`;
}

/** The whole percentage, or null where the base is too small for one. */
export function percentOf(part: number, whole: number): number | null {
  if (whole < leastForPercent || part < 0 || part > whole) return null;
  if (part === 0 || part === whole) return part === 0 ? 0 : 100;
  const rounded = divideHalfUp(BigInt(part) * 100n, BigInt(whole));
  return Math.min(99, Math.max(1, rounded));
}
