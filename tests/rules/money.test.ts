import fc from "fast-check";
import { describe, expect, expectTypeOf, test } from "vitest";
import {
  divideHalfEven,
  divideHalfUp,
  isMinor,
  isRate,
  type Minor,
  partOf,
  share,
  total,
} from "../../src/rules/money.ts";

describe("amounts", () => {
  test("are whole, safe numbers", () => {
    expect([0, -1, Number.MAX_SAFE_INTEGER].every(isMinor)).toBe(true);
    expect([0.5, Number.NaN, 2 ** 53, "5", 5n, null].some(isMinor)).toBe(false);
    expectTypeOf<Minor>().toEqualTypeOf<number>();
  });

  test("add up, and refuse fractions and unsafe sums", () => {
    expect(total([])).toBe(0);
    expect(total([1250, -250, 1])).toBe(1001);
    expect(() => total([1, 0.5])).toThrow(RangeError);
    expect(() => total([Number.MAX_SAFE_INTEGER, 1])).toThrow(RangeError);
  });

  test("rates lie between nothing and the whole", () => {
    expect([0, 8875, 100_000].every(isRate)).toBe(true);
    expect([-1, 100_001, 8.5].some(isRate)).toBe(false);
  });
});

describe("rounding", () => {
  // Thousandths of a unit to cents; Streamlined Sales and Use Tax Agreement s.324 for half up,
  // the half-even column worked out with exact decimals.
  test.each([
    [5, 1, 0],
    [15, 2, 2],
    [25, 3, 2],
    [45, 5, 4],
    [1125, 113, 112],
    [1665, 167, 166],
    [2675, 268, 268],
    [-5, -1, 0],
    [-4, 0, 0],
    [-6, -1, -1],
  ])("%i thousandths are %i cents half up and %i half even", (thousandths, up, even) => {
    expect(divideHalfUp(BigInt(thousandths), 10n)).toBe(up);
    expect(divideHalfEven(BigInt(thousandths), 10n)).toBe(even);
  });

  test("refuses a denominator that is not above zero and an unsafe quotient", () => {
    expect(() => divideHalfUp(1n, 0n)).toThrow(RangeError);
    expect(() => divideHalfEven(1n, -2n)).toThrow(RangeError);
    expect(() => divideHalfUp(2n ** 60n, 1n)).toThrow(RangeError);
  });

  test("stays within half of a coin of the exact quotient, and keeps the sign's symmetry", () => {
    fc.assert(
      fc.property(fc.maxSafeInteger(), fc.integer({ min: 1, max: 100_000 }), (amount, divisor) => {
        const [numerator, denominator] = [BigInt(amount), BigInt(divisor)];
        for (const divide of [divideHalfUp, divideHalfEven]) {
          const off = 2n * (BigInt(divide(numerator, denominator)) * denominator - numerator);
          expect(off <= denominator && off >= -denominator).toBe(true);
          expect(divide(-numerator, denominator)).toBe(0 - divide(numerator, denominator));
        }
      }),
    );
  });
});

describe("a share by a rate", () => {
  // The values that binary floats get wrong: 0.825, 0.015 and 1.005 lie below the half as floats.
  test.each([
    [1000, 8250, 83],
    [30, 5000, 2],
    [100, 100_000, 100],
    [12345, 0, 0],
    [-1000, 8250, -83],
  ])("of %i at %i is %i", (amount, rate, expected) => {
    expect(share(amount, rate)).toBe(expected);
  });

  // Rounding to three decimals first would give 13, 8 and 10.
  test.each([
    [178, 7000, 12],
    [103, 7250, 7],
    [107, 8875, 9],
  ])("is not rounded twice: %i at %i is %i", (amount, rate, expected) => {
    expect(share(amount, rate)).toBe(expected);
  });

  test("refuses what is not an amount or not a rate", () => {
    expect(() => share(0.5, 1000)).toThrow(RangeError);
    expect(() => share(100, 100_001)).toThrow(RangeError);
    expect(() => share(100, -1)).toThrow(RangeError);
  });

  test("equals the floor form for amounts that are not negative", () => {
    const cents = fc.integer({ min: 0, max: 10_000_000 });
    const rates = fc.integer({ min: 0, max: 100_000 });
    fc.assert(
      fc.property(cents, rates, (amount, rate) => {
        expect(share(amount, rate)).toBe(Math.floor((2 * amount * rate + 100_000) / 200_000));
      }),
    );
  });
});

describe("a part of a stored amount", () => {
  test("of 1.09 tax on three pieces comes back as .36, .37 and .36", () => {
    expect([0, 1, 2].map((before) => partOf(109, 3, before, 1))).toEqual([36, 37, 36]);
    expect(partOf(109, 3, 0, 3)).toBe(109);
    expect(partOf(0, 3, 1, 1)).toBe(0);
  });

  test("refuses more pieces than are left and numbers that count nothing", () => {
    expect(() => partOf(109, 3, 2, 2)).toThrow("Only 1 of 3");
    expect(() => partOf(109, 0, 0, 0)).toThrow(RangeError);
    expect(() => partOf(109, 3, -1, 1)).toThrow(RangeError);
    expect(() => partOf(109, 3, 0, 0.5)).toThrow(RangeError);
  });

  test("adds up to the whole whatever the steps", () => {
    const steps = fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(fc.integer({ min: -1_000_000, max: 1_000_000 }), steps, (stored, counts) => {
        const quantity = total(counts);
        fc.pre(quantity > 0);
        let returned = 0;
        const parts = counts.map((now) => {
          const part = partOf(stored, quantity, returned, now);
          returned += now;
          return part;
        });
        expect(total(parts)).toBe(stored);
      }),
    );
  });
});
