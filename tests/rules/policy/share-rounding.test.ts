import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { total } from "../../../src/rules/money.ts";
import {
  guildShares,
  type Halves,
  type ShareLine,
  shareBy,
} from "../../../src/rules/policy/share-rounding.ts";
import { roundings } from "./support.ts";

const linesOf = (bases: readonly number[], rate: number): ShareLine[] =>
  bases.map((base, index) => ({ lineId: `${index}`, quantity: 1, base, rate }));

const sum = (bases: readonly number[], rate: number, basis: "line" | "statement", halves: Halves) =>
  total(guildShares(linesOf(bases, rate), { basis, halves }));

// Commission by line and by total, worked out with exact decimals by an independent script; the
// last column by hand from the exact products (346.5, 672.5, 1495.5, 472.5, 937.5 and so on).
test.each([
  [15_000, [450, 450, 450, 450, 450], 340, 340, 338, 338],
  [15_000, Array<number>(7).fill(330), 350, 350, 347, 346],
  [25_000, [1250, 810, 630], 674, 672, 673, 672],
  [20_000, [799, 799, 799], 480, 480, 479, 479],
  [30_000, [995, 1495, 2495], 1497, 1494, 1496, 1496],
  [35_000, Array<number>(9).fill(150), 477, 468, 473, 472],
  [12_500, [1800, 2200, 3500], 938, 938, 938, 938],
])(
  "%i of %j: per line %i or %i, per statement %i or %i",
  (rate, bases, up, even, allUp, allEven) => {
    expect(sum(bases, rate, "line", "up")).toBe(up);
    expect(sum(bases, rate, "line", "even")).toBe(even);
    expect(sum(bases, rate, "statement", "up")).toBe(allUp);
    expect(sum(bases, rate, "statement", "even")).toBe(allEven);
  },
);

// What rounding half up takes too much, over every price from 0.01 to 100.00 (the same script).
test.each([
  [15_000, 250],
  [10_000, 500],
  [30_000, 500],
  [12_500, 625],
  [25_000, 1250],
])("at %i half up takes %i cents too much over all prices, half even nothing", (rate, excess) => {
  const prices = Array.from({ length: 10_000 }, (_, index) => index + 1);
  const exact = (total(prices) * rate) / 100_000;
  expect(total(prices.map((price) => shareBy("up", price, rate))) - exact).toBe(excess);
  expect(total(prices.map((price) => shareBy("even", price, rate))) - exact).toBe(0);
});

describe("a return", () => {
  const sale: ShareLine = { lineId: "sale", quantity: 3, base: 1350, rate: 15_000 };
  const back = (alreadyReturned: number): ShareLine => ({
    ...{ lineId: `back ${alreadyReturned}`, quantity: -1, base: -450, rate: 15_000 },
    original: { lineId: "sale", quantity: 3, alreadyReturned },
  });

  test("takes back its part of the rounded share of its line", () => {
    // 15 % of 13.50 is 2.025: 2.03 half up and 2.02 half even.
    const lines = [sale, back(0), back(1), back(2)];
    const shares = (halves: Halves) => guildShares(lines, { basis: "line", halves });
    expect(shares("up")).toEqual([203, -68, -67, -68]);
    expect(shares("even")).toEqual([202, -67, -68, -67]);
  });

  test("must come after the line that it takes back", () => {
    for (const basis of ["line", "statement"] as const)
      for (const lines of [[back(0)], [back(0), sale]])
        expect(() => guildShares(lines, { basis, halves: "up" })).toThrow("not here");
  });
});

test("a rate above 100 % is refused", () => {
  for (const basis of ["line", "statement"] as const)
    expect(() => guildShares(linesOf([100], 100_001), { basis, halves: "up" })).toThrow(RangeError);
  expect(() => shareBy("up", 100, -1)).toThrow(RangeError);
});

test("shares stay within a coin of the exact ones and never change with later lines", () => {
  const drawn = fc.array(
    fc.record({
      unit: fc.integer({ min: 1, max: 99_999 }),
      quantity: fc.integer({ min: 1, max: 5 }),
      rate: fc.integer({ min: 0, max: 100_000 }),
    }),
    { maxLength: 15 },
  );
  fc.assert(
    fc.property(drawn, roundings, (pieces, rounding) => {
      const sales = pieces.map(({ unit, quantity, rate }, index) => ({
        ...{ lineId: `${index}`, quantity, base: unit * quantity, rate },
      }));
      const returns = pieces.flatMap(({ unit, quantity, rate }, index) =>
        Array.from({ length: quantity }, (_, alreadyReturned) => ({
          ...{ lineId: `${index} ${alreadyReturned}`, quantity: -1, base: -unit, rate },
          original: { lineId: `${index}`, quantity, alreadyReturned },
        })),
      );
      const shares = guildShares(sales, rounding);
      const exact = sales.map(({ base, rate }) => BigInt(base) * BigInt(rate));
      for (const [index, share] of shares.entries()) {
        const off = BigInt(share) * 100_000n - exact[index]!;
        expect(off <= 100_000n && off >= -100_000n).toBe(true);
      }
      if (rounding.basis === "statement") {
        const all = exact.reduce((before, one) => before + one, 0n);
        const off = 2n * (BigInt(total(shares)) * 100_000n - all);
        expect(off <= 100_000n && off >= -100_000n).toBe(true);
      }
      const withReturns = guildShares([...sales, ...returns], rounding);
      expect(withReturns.slice(0, shares.length)).toEqual(shares);
      expect(total(withReturns)).toBe(0);
    }),
  );
});
