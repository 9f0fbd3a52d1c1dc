import { dividedBy, type Fraction, fraction, times } from "../fraction.ts";
import { type Minor, type Rate, wholeRate } from "../money.ts";

/**
 * What an hour of helping at the sale saves: the sales of a member times the difference of the
 * percentages, for the hours that the lower one takes. Null where no work is needed for it.
 */
export function shiftPay(
  sales: Minor,
  { without, lower, minutes }: { without: Rate; lower: Rate; minutes: number },
): Fraction | null {
  if (minutes <= 0) return null;
  const saved = times(fraction(sales), fraction(without - lower, wholeRate));
  return dividedBy(times(saved, fraction(60)), fraction(minutes));
}
