import { type Minor, wholeRate } from "../money.ts";
import type { TaxRules } from "./tax-rules.ts";

/** Exact taxes before any rounding: `over[component][line]`, all of them divided by `under`. */
export interface ExactTaxes {
  over: bigint[][];
  under: bigint;
}

/**
 * The exact tax of every component on every line, from the parts that each taxes. Added tax is
 * part × rate; tax in the price is part × rate / (100 % + the rates that tax this line). Lines
 * with other rates have another divisor, so all are brought onto one, and nothing is lost.
 */
export function exactTaxes(parts: readonly Minor[][], rules: TaxRules): ExactTaxes {
  const { included, components } = rules;
  const whole = BigInt(wholeRate);
  const rates = components.map(({ rate }) => BigInt(rate));
  const lineCount = parts[0]?.length ?? 0;
  const unders = Array.from({ length: lineCount }, (_, line) =>
    included
      ? rates.reduce((sum, rate, index) => (parts[index]![line]! > 0 ? sum + rate : sum), whole)
      : whole,
  );
  const under = [...new Set(unders)].reduce((product, one) => product * one, 1n);
  const over = parts.map((row, index) =>
    row.map((part, line) => BigInt(part) * rates[index]! * (under / unders[line]!)),
  );
  return { over, under };
}
