import { type Minor, type Rate, share, total } from "./money.ts";
import { splitByLargestRemainder } from "./split.ts";

/**
 * Sales tax added to a receipt: once on the sum of its lines, half up, as the Streamlined Sales
 * and Use Tax Agreement, section 324, lets a seller choose. The tax of each line is an exact part
 * of it (largest remainder), stored so that a return gives back what was taken.
 */
export function taxOnReceipt(
  amounts: readonly Minor[],
  rate: Rate,
): { tax: Minor; perLine: Minor[] } {
  if (amounts.some((amount) => amount < 0))
    throw new RangeError(`Tax is for sales, not for amounts below zero: ${amounts.join(", ")}`);
  const tax = share(total(amounts), rate);
  const perLine = tax === 0 ? amounts.map(() => 0) : splitByLargestRemainder(tax, amounts);
  return { tax, perLine };
}
