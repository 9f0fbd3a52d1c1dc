import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { changeIn, likelyNotes } from "../../src/rules/change.ts";
import { denominationRows } from "../../src/rules/denomination-table.ts";
import { countCash, denominationsOf } from "../../src/rules/denominations.ts";

const anyCurrency = fc.constantFrom(...Object.keys(denominationRows), "PLN", "KWD", "KRW");

describe("what a buyer is likely to hand over", () => {
  test.each<[string, number, number[]]>([
    ["USD", 75, [75, 100, 500, 1000, 2000]],
    ["USD", 1230, [1230, 1500, 2000, 5000, 10_000]],
    ["USD", 3742, [3742, 4000, 5000, 10_000]],
    ["USD", 16_320, [16_320, 18_000, 20_000]],
    ["USD", 10_000, [10_000, 20_000]],
    ["USD", 234_000, [234_000, 235_000, 240_000]],
    ["GBP", 3742, [3742, 4000, 5000]],
    ["GBP", 10_000, [10_000, 15_000]],
    ["JPY", 3742, [3742, 4000, 5000, 10_000]],
    ["SEK", 7500, [7500, 8000, 10_000, 20_000, 50_000]],
    ["USD", 0, [0]],
  ])("%s %i", (currency, due, offers) => {
    expect(likelyNotes(due, currency)).toEqual(offers);
  });

  test("is two to five amounts, ascending and distinct, the first of them exact", () => {
    fc.assert(
      fc.property(anyCurrency, fc.integer({ min: 1, max: 5_000_000 }), (currency, due) => {
        const offers = likelyNotes(due, currency);
        expect(offers[0]).toBe(due);
        expect(offers.length).toBeGreaterThanOrEqual(2);
        expect(offers.length).toBeLessThanOrEqual(5);
        expect(offers).toEqual([...new Set(offers)].toSorted((one, other) => one - other));
      }),
    );
  });

  test("is never asked of money that goes back", () => {
    expect(() => likelyNotes(-1, "USD")).toThrow(RangeError);
    expect(() => changeIn(-1, "USD")).toThrow(RangeError);
  });
});

describe("change", () => {
  test("is handed over largest first, without what a drawer seldom holds", () => {
    expect(changeIn(39_492, "USD")).toEqual({
      pieces: [
        { value: 10_000, count: 3 },
        { value: 5000, count: 1 },
        { value: 2000, count: 2 },
        { value: 100, count: 4 },
        { value: 25, count: 3 },
        { value: 10, count: 1 },
        { value: 5, count: 1 },
        { value: 1, count: 2 },
      ],
      rest: 0,
    });
    expect(changeIn(0, "USD")).toEqual({ pieces: [], rest: 0 });
  });

  test("says what no coin can pay", () => {
    expect(changeIn(1002, "CAD")).toEqual({ pieces: [{ value: 1000, count: 1 }], rest: 2 });
  });

  test("comes to the amount", () => {
    fc.assert(
      fc.property(anyCurrency, fc.nat(5_000_000), (currency, amount) => {
        const { pieces, rest } = changeIn(amount, currency);
        expect(countCash(pieces) + rest).toBe(amount);
        expect(rest).toBeLessThan(denominationsOf(currency).at(-1)!.value);
      }),
    );
  });

  test.each([...Object.keys(denominationRows), "PLN"])(
    "has the fewest pieces in %s",
    (currency) => {
      const usual = denominationsOf(currency).filter((one) => one.usual);
      const step = usual.at(-1)!.value;
      const fewest = [0];
      for (let amount = 1; amount <= 600; amount += 1)
        fewest[amount] = Math.min(
          ...usual
            .map(({ value }) => amount - value / step)
            .filter((before) => before >= 0)
            .map((before) => fewest[before]! + 1),
        );
      for (const [amount, expected] of fewest.entries()) {
        const { pieces } = changeIn(amount * step, currency);
        expect(pieces.reduce((sum, { count }) => sum + count, 0)).toBe(expected);
      }
    },
  );
});
