import fc from "fast-check";
import { expect, test } from "vitest";
import { total } from "../../src/rules/money.ts";
import { taxOnReceipt } from "../../src/rules/tax.ts";

// Streamlined Sales and Use Tax Agreement s.324, by invoice, worked out with exact decimals;
// 299.99 at 8.25 % also stands in the Texas Comptroller's text on rounding.
test.each([
  [7250, [499, 499, 499], 109],
  [6250, [1240, 1240], 155],
  [7000, [50, 50, 50, 50], 14],
  [8875, [995, 1995, 350], 296],
  [6875, [1800, 2400, 3600], 536],
  [8375, [4500, 3250, 1875, 1200], 907],
  [6350, Array<number>(6).fill(2750), 1048],
  [5000, Array<number>(10).fill(10), 5],
  [5000, Array<number>(10).fill(9), 5],
  [8250, [29999], 2475],
])("at %i on %j is %i", (rate, amounts, tax) => {
  const result = taxOnReceipt(amounts, rate);
  expect(result.tax).toBe(tax);
  expect(total(result.perLine)).toBe(tax);
});

test("goes to the lines by largest remainder", () => {
  expect(taxOnReceipt([499, 499, 499], 7250).perLine).toEqual([37, 36, 36]);
  expect(taxOnReceipt([1800, 2400, 3600], 6875).perLine).toEqual([124, 165, 247]);
  expect(taxOnReceipt([0, 100], 10_000).perLine).toEqual([0, 10]);
  expect(taxOnReceipt([0, 0], 10_000)).toEqual({ tax: 0, perLine: [0, 0] });
  expect(taxOnReceipt([], 10_000)).toEqual({ tax: 0, perLine: [] });
});

// Binary floats or rounding to three decimals first give another cent for each of these.
test.each([
  [1000, 8250, 83],
  [30, 5000, 2],
  [178, 7000, 12],
  [103, 7250, 7],
  [107, 8875, 9],
])("%i at %i is %i, not a cent off", (amount, rate, tax) => {
  expect(taxOnReceipt([amount], rate).tax).toBe(tax);
});

test("refuses amounts below zero: a return takes back what was stored", () => {
  expect(() => taxOnReceipt([100, -1], 1000)).toThrow(RangeError);
});

test("each line's part is within a coin of its exact tax, and the parts make the whole", () => {
  const amountLists = fc.array(fc.integer({ min: 0, max: 100_000_000 }), { maxLength: 30 });
  fc.assert(
    fc.property(amountLists, fc.integer({ min: 0, max: 30_000 }), (amounts, rate) => {
      const { tax, perLine } = taxOnReceipt(amounts, rate);
      expect(total(perLine)).toBe(tax);
      for (const [index, part] of perLine.entries())
        expect(Math.abs(part * 100_000 - amounts[index]! * rate)).toBeLessThanOrEqual(150_000);
    }),
  );
});
