import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { discountable, markdown, spreadDiscount } from "../../src/rules/discount.ts";
import { share, total } from "../../src/rules/money.ts";

const allowed = (amount: number) => ({ amount, allowed: true });
const kept = (amount: number) => ({ amount, allowed: false });

describe("a markdown", () => {
  test("is one share of all lines, split by largest remainder", () => {
    // 3 × 4.99 less 15 % is 2.2455, so 2.25 off: exactly 0.75 from each. Worked by hand.
    expect(markdown([allowed(499), allowed(499), allowed(499)], 15_000)).toEqual([75, 75, 75]);
    // 10 % of 0.15 is 0.015, so 0.02; line by line it would be 0.03.
    expect(markdown([allowed(5), allowed(5), allowed(5)], 10_000)).toEqual([1, 1, 0]);
  });

  test("leaves lines alone whose owner did not allow it", () => {
    expect(markdown([kept(10_000), allowed(2000), kept(1)], 25_000)).toEqual([0, 500, 0]);
    expect(markdown([kept(10_000)], 25_000)).toEqual([0]);
    expect(markdown([], 25_000)).toEqual([]);
  });

  test("may be nothing or everything, and no more", () => {
    expect(markdown([allowed(333), allowed(1)], 0)).toEqual([0, 0]);
    expect(markdown([allowed(333), allowed(1)], 100_000)).toEqual([333, 1]);
    expect(() => markdown([allowed(333)], 100_001)).toThrow(RangeError);
  });
});

describe("an amount off", () => {
  test("is spread over what allows it", () => {
    expect(spreadDiscount(100, [allowed(100), kept(500), allowed(200)])).toEqual([33, 0, 67]);
  });

  test("is never more than the lines that allow it, and never below zero", () => {
    const lines = [allowed(100), kept(500)];
    expect(discountable(lines)).toBe(100);
    expect(spreadDiscount(100, lines)).toEqual([100, 0]);
    expect(() => spreadDiscount(101, lines)).toThrow(RangeError);
    expect(() => spreadDiscount(-1, lines)).toThrow(RangeError);
    expect(() => spreadDiscount(1, [kept(500)])).toThrow(RangeError);
  });
});

test("the parts make the whole share, none above its line and none where it is not allowed", () => {
  const anyLines = fc.array(
    fc.record({ amount: fc.oneof(fc.nat(9), fc.nat(10_000_000)), allowed: fc.boolean() }),
    { maxLength: 12 },
  );
  fc.assert(
    fc.property(anyLines, fc.nat(100_000), (lines, rate) => {
      const parts = markdown(lines, rate);
      const open = lines.filter((line) => line.allowed).map(({ amount }) => amount);
      expect(total(parts)).toBe(share(total(open), rate));
      for (const [index, line] of lines.entries()) {
        expect(parts[index]).toBeLessThanOrEqual(line.allowed ? line.amount : 0);
        expect(parts[index]).toBeGreaterThanOrEqual(0);
      }
    }),
  );
});
