import { digitsOf } from "../../../rules/currency.ts";
import type { Minor } from "../../../rules/money.ts";

/** Total that buyers like to round up to, in whole units: the next one, five and ten. */
const steps = [1, 5, 10];

/**
 * What may be added to a total so that it comes to a whole unit, five or ten of them; ascending
 * and distinct, none of it zero. In currencies without small coins a unit is a hundred.
 */
export function roundUps(total: Minor, currency: string): Minor[] {
  if (total <= 0) return [];
  const unit = digitsOf(currency) === 0 ? 100 : 10 ** digitsOf(currency);
  const gaps = steps.map((step) => (step * unit - (total % (step * unit))) % (step * unit));
  return [...new Set(gaps.filter((gap) => gap > 0))].sort((one, other) => one - other);
}
