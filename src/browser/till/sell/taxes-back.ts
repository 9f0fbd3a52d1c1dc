import type { ReceiptFact } from "../../../contract/till-fact.ts";
import { type Minor, partOf, total } from "../../../rules/money.ts";
import { splitByLargestRemainder } from "../../../rules/split.ts";

type Taxes = ReceiptFact["taxes"];

/**
 * Each component's part of a tax that goes back, below zero: what is gone after this return less
 * what was gone before it, so that bringing back every piece gives each component back whole.
 * `before` and `now` are taxes above zero; `net` says the same of the prices before tax.
 */
export function taxesBack(
  taxes: Taxes,
  tax: { before: Minor; now: Minor },
  net: { whole: Minor; before: Minor; now: Minor },
): Taxes {
  const weights = taxes.map((component) => component.tax);
  const upTo = (amount: Minor): Minor[] =>
    amount === 0 || total(weights) === 0
      ? weights.map(() => 0)
      : splitByLargestRemainder(amount, weights);
  const [gone, after] = [upTo(tax.before), upTo(tax.before + tax.now)];
  return taxes.map(({ base, ...component }, index) => ({
    ...component,
    base: net.whole === 0 ? 0 : 0 - partOf(base, net.whole, net.before, net.now),
    tax: 0 - (after[index]! - gone[index]!),
  }));
}
