import { type Rate, total } from "../money.ts";
import { type Day, ruleFor, type TaxRules } from "../tax/tax-rules.ts";

/**
 * The most tax that the till may add to the price of a kind of goods, for the card fee that is
 * charged on it. Thresholds depend on the price that is still sought, so they are taken as
 * reached; tax that is in the price already adds nothing.
 */
export function taxOnTop({ included, components }: TaxRules, kind: string, day: Day): Rate {
  if (included) return 0;
  const taxed = components.filter((component) => ruleFor(component, kind, day).mode !== "exempt");
  return total(taxed.map(({ rate }) => rate));
}
