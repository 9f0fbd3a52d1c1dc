import { describe, expect, test } from "vitest";
import { total } from "../../../src/rules/money.ts";
import { flatTax } from "../../../src/rules/tax/tax-rules.ts";
import { component, line, rulesOf, taxOn } from "./support.ts";

// Streamlined Sales and Use Tax Agreement s.324, per invoice and per item, worked out with exact
// decimals; 299.99 at 8.25 % also stands in the Texas Comptroller's text on rounding.
describe.each<[number, number[], number, number]>([
  [7250, [499, 499, 499], 109, 108],
  [6250, [1240, 1240], 155, 156],
  [7000, [50, 50, 50, 50], 14, 16],
  [8875, [995, 1995, 350], 296, 296],
  [6875, [1800, 2400, 3600], 536, 537],
  [8375, [4500, 3250, 1875, 1200], 907, 907],
  [6350, Array<number>(6).fill(2750), 1048, 1050],
  [5000, Array<number>(10).fill(10), 5, 10],
  [5000, Array<number>(10).fill(9), 5, 0],
  [8250, [29999], 2475, 2475],
])("at %i on %j", (rate, amounts, once, perLine) => {
  const lines = amounts.map((amount) => line(amount));

  test("rounded once for the receipt", () => {
    const tax = taxOn(lines, flatTax(rate, "Sales tax"));
    expect(tax.tax).toBe(once);
    expect(total(tax.perLine)).toBe(once);
    expect(tax.components).toEqual([
      { code: "tax", name: "Sales tax", rate, base: total(amounts), tax: once },
    ]);
  });

  test.each([true, false])("rounded line by line, together %s", (together) => {
    const tax = taxOn(lines, rulesOf([component(rate)], { basis: "line", together }));
    expect(tax.tax).toBe(perLine);
    expect(total(tax.perLine)).toBe(perLine);
  });
});

test("each line's own tax under the per-line rule (the same table)", () => {
  const perLine = (rate: number, amounts: number[]) =>
    taxOn(
      amounts.map((amount) => line(amount)),
      rulesOf([component(rate)], { basis: "line" }),
    ).perLine;
  expect(perLine(8875, [995, 1995, 350])).toEqual([88, 177, 31]);
  expect(perLine(6875, [1800, 2400, 3600])).toEqual([124, 165, 248]);
  expect(perLine(8375, [4500, 3250, 1875, 1200])).toEqual([377, 272, 157, 101]);
});

test("one rounding goes to the lines by largest remainder", () => {
  const perLine = (amounts: number[], rate: number) =>
    taxOn(
      amounts.map((amount) => line(amount)),
      flatTax(rate, "Tax"),
    ).perLine;
  expect(perLine([499, 499, 499], 7250)).toEqual([37, 36, 36]);
  expect(perLine([1800, 2400, 3600], 6875)).toEqual([124, 165, 247]);
  expect(perLine([0, 100], 10_000)).toEqual([0, 10]);
  expect(perLine([0, 0], 10_000)).toEqual([0, 0]);
  expect(perLine([], 10_000)).toEqual([]);
});

// Binary floats or rounding to three decimals first give another cent for each of these.
test.each([
  [1000, 8250, 83],
  [30, 5000, 2],
  [178, 7000, 12],
  [103, 7250, 7],
  [107, 8875, 9],
])("%i at %i is %i, not a cent off", (amount, rate, tax) => {
  expect(taxOn([line(amount)], flatTax(rate, "Tax")).tax).toBe(tax);
});

describe("state, city and district: 4 + 4.5 + 0.375 = 8.875 %", () => {
  const three = [component(4000), component(4500), component(375)];

  test("added up and rounded once, the cents then split", () => {
    // 9.95 × 8.875 % = 0.8830625, so 0.88; of 88 cents 39.66, 44.62 and 3.72 are exact shares,
    // and the two cents left over go to .72 and .66: worked out by hand.
    const tax = taxOn([line(995)], rulesOf(three));
    expect(tax.tax).toBe(88);
    expect(tax.components.map((one) => one.tax)).toEqual([40, 44, 4]);
  });

  test("each rounded by itself may come to another cent", () => {
    // 0.398 -> 0.40, 0.44775 -> 0.45, 0.0373125 -> 0.04: worked out by hand.
    for (const basis of ["receipt", "line"] as const) {
      const tax = taxOn([line(995)], rulesOf(three, { together: false, basis }));
      expect(tax.tax).toBe(89);
      expect(tax.components.map((one) => one.tax)).toEqual([40, 45, 4]);
    }
  });
});
