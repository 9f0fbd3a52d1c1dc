import Decimal from "decimal.js";
import type { TaxRules } from "../../../src/rules/tax/tax-rules.ts";
import type { LineToTax } from "../../../src/rules/tax/taxed-part.ts";

/**
 * The tax of a receipt again, in decimals of whole currency units instead of integers, written
 * from the law's words and not from our code. Quotients of tax in prices never end, so a hundred
 * digits are kept and a speck is added before rounding: an exact half that lost its last digit
 * still goes up, and nothing else lies so near a half.
 */
const Exact = Decimal.clone({ precision: 100 });
const speck = new Exact("1e-60");
const cent = (value: Decimal) => value.plus(speck).toDecimalPlaces(2, Decimal.ROUND_HALF_UP);
const add = (values: readonly Decimal[]) =>
  values.reduce((sum, value) => sum.plus(value), new Exact(0));

export interface OracleTax {
  tax: number;
  /** Exact, in smallest coins; a line's stored part is near it. */
  exactPerLine: number[];
  perComponent: number[] | undefined;
  perLine: number[] | undefined;
}

/** What of a line's price a component taxes, the rules without spans of days. */
function taxable(
  line: LineToTax,
  { rules }: TaxRules["components"][number],
): { part: Decimal; price: Decimal } {
  const price = new Exact(line.amount).div(100);
  const own = rules.find(({ kind }) => kind === line.kind);
  const rule = own ?? rules.find(({ kind }) => kind === "*");
  const perPiece = price.div(line.quantity);
  const threshold = new Exact(rule?.threshold ?? 0).div(100);
  // A quotient that never ends is compared with its last digits cut off.
  const gap = perPiece.minus(threshold);
  const same = gap.abs().lt(speck);
  let part = price;
  if (!line.taxed || rule?.mode === "exempt") part = new Exact(0);
  else if (rule?.mode === "exempt-under" && gap.lt(0) && !same) part = new Exact(0);
  else if (rule?.mode === "excess-over")
    part = gap.gt(0) && !same ? price.minus(threshold.times(line.quantity)) : new Exact(0);
  return { part, price };
}

export function oracleTax(lines: readonly LineToTax[], rules: TaxRules): OracleTax {
  const cells = lines.map((line) => {
    const parts = rules.components.map((one) => ({ ...taxable(line, one), rate: one.rate }));
    const percent = (rate: number) => new Exact(rate).div(100_000);
    const all = add(parts.filter(({ part }) => part.gt(0)).map(({ rate }) => percent(rate)));
    const divisor = rules.included ? all.plus(1) : new Exact(1);
    return parts.map(({ part, rate }) => part.times(percent(rate)).div(divisor));
  });
  const lineSums = cells.map(add);
  const componentSums = rules.components.map((_, index) => add(cells.map((row) => row[index]!)));
  const coins = (value: Decimal) => value.times(100).toNumber();
  const perLine = rules.together
    ? lineSums.map(cent)
    : cells.map((row) => add(row.map((cell) => cent(cell))));
  const apart =
    rules.basis === "line"
      ? rules.components.map((_, index) => add(cells.map((row) => cent(row[index]!))))
      : componentSums.map(cent);
  let tax = add(apart);
  if (rules.together) tax = rules.basis === "line" ? add(perLine) : cent(add(lineSums));
  return {
    tax: coins(tax),
    exactPerLine: lineSums.map(coins),
    perComponent: rules.together ? undefined : apart.map(coins),
    perLine: rules.basis === "line" ? perLine.map(coins) : undefined,
  };
}
