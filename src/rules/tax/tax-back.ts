import { divideHalfUp, type Minor } from "../money.ts";
import { splitByLargestRemainder } from "../split.ts";
import type { ComponentTax } from "./tax-of.ts";

/**
 * The taxes of a return or a void by component: `tax` (zero or below) is what goes back, `left`
 * is what each component still holds of the sale (zero or above). Each gives its share of what it
 * holds (largest remainder), so no component gives back more than it took, and returning every
 * piece in any steps empties them all. A till off line that took back pieces meanwhile may have
 * given a coin too much of one component; it gives no more, and the others have the coin. Throws
 * when more goes back than is left.
 */
export function taxBack(tax: Minor, left: readonly ComponentTax[]): ComponentTax[] {
  const held = left.map((component) => Math.max(0, component.tax));
  if (0 - tax > held.reduce((sum, one) => sum + one, 0))
    throw new RangeError(`${0 - tax} of tax cannot go back out of ${held.join(" + ")}`);
  const parts = tax === 0 ? held.map(() => 0) : splitByLargestRemainder(tax, held);
  return left.map(({ code, name, rate, base, tax: whole }, index) => {
    const part = parts[index]!;
    const baseBack = part === 0 ? 0 : divideHalfUp(BigInt(base) * BigInt(part), BigInt(whole));
    return { code, name, rate, base: baseBack, tax: part };
  });
}
