import { divideHalfUp, type Minor, total } from "../money.ts";
import { splitByLargestRemainder } from "../split.ts";
import type { ExactTaxes } from "./exact-tax.ts";
import type { TaxRules } from "./tax-rules.ts";

/** The same tax seen twice: both lists add up to it. */
export interface RoundedTaxes {
  perLine: Minor[];
  perComponent: Minor[];
}

/**
 * Rounds exact taxes half up, per line or once for the receipt, with the components together or
 * one by one (Streamlined Sales and Use Tax Agreement, section 324, leaves both to the seller).
 * What is rounded as a sum is then spread over its parts by largest remainder.
 */
export function roundTaxes(
  { over, under }: ExactTaxes,
  { basis, together }: TaxRules,
  lineCount: number,
): RoundedTaxes {
  const rounded = (exact: bigint) => divideHalfUp(exact, under);
  const byComponent = over.map(sum);
  const byLine = Array.from({ length: lineCount }, (_, line) => sum(over.map((row) => row[line]!)));
  if (basis === "line" && !together) {
    const cells = over.map((row) => row.map(rounded));
    const perLine = byLine.map((_, line) => total(cells.map((row) => row[line]!)));
    return { perLine, perComponent: cells.map(total) };
  }
  if (basis === "line") {
    const perLine = byLine.map(rounded);
    return { perLine, perComponent: spread(total(perLine), byComponent) };
  }
  const perComponent = together
    ? spread(rounded(sum(byComponent)), byComponent)
    : byComponent.map(rounded);
  return { perLine: spread(total(perComponent), byLine), perComponent };
}

const sum = (exact: readonly bigint[]): bigint => exact.reduce((before, one) => before + one, 0n);

/** Nothing to spread is nothing for each, even where no weight is above zero. */
const spread = (amount: Minor, weights: readonly bigint[]): Minor[] =>
  amount === 0 ? weights.map(() => 0) : splitByLargestRemainder(amount, weights);
