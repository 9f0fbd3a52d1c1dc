import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { currencies } from "../../src/rules/currency-table.ts";
import { denominationRows } from "../../src/rules/denomination-table.ts";
import { checkCounts, countCash, denominationsOf } from "../../src/rules/denominations.ts";

const valuesOf = (currency: string) => denominationsOf(currency).map(({ value }) => value);

describe("notes and coins", () => {
  // From memory.
  test.each<[string, number[]]>([
    ["USD", [10_000, 5000, 2000, 1000, 500, 200, 100, 50, 25, 10, 5, 1]],
    ["CAD", [10_000, 5000, 2000, 1000, 500, 200, 100, 50, 25, 10, 5]],
    ["SEK", [100_000, 50_000, 20_000, 10_000, 5000, 2000, 1000, 500, 200, 100]],
    ["JPY", [10_000, 5000, 2000, 1000, 500, 100, 50, 10, 5, 1]],
  ])("of %s", (currency, values) => {
    expect(valuesOf(currency)).toEqual(values);
  });

  test("of the other currencies in the table end with the coin that cash is rounded to", () => {
    const last = (currency: string) => valuesOf(currency).at(-1);
    expect(["EUR", "GBP", "AUD", "NZD", "NOK", "DKK", "CHF"].map(last)).toEqual([
      1, 1, 5, 10, 100, 50, 5,
    ]);
  });

  test("of a currency that the table does not know go by one, two and five", () => {
    expect(valuesOf("PLN").slice(-5)).toEqual([20, 10, 5, 2, 1]);
    expect(valuesOf("KRW")[0]).toBe(500_000);
    expect(() => denominationsOf("XXX")).toThrow(RangeError);
  });

  test("stand largest first, each once, in whole smallest coins, whatever the currency", () => {
    for (const { code } of currencies) {
      const values = valuesOf(code);
      expect(values.every((value) => Number.isSafeInteger(value) && value >= 1)).toBe(true);
      expect(values).toEqual([...new Set(values)].toSorted((one, other) => other - one));
    }
  });

  test("that are only counted are marked", () => {
    const seldom = denominationsOf("USD").filter(({ usual }) => !usual);
    expect(seldom).toEqual([
      { value: 200, kind: "note", usual: false },
      { value: 50, kind: "coin", usual: false },
    ]);
  });
});

describe("a count of the drawer", () => {
  test("comes to what lies there", () => {
    // Worked by hand: 5 × 20, 4 × 10, 4 × 5, 9 × 1, 12 × 0.25, 4 × 0.10 and 2 × 0.05 is 172.50.
    const counted = [
      { value: 2000, count: 5 },
      { value: 1000, count: 4 },
      { value: 500, count: 4 },
      { value: 100, count: 9 },
      { value: 25, count: 12 },
      { value: 10, count: 4 },
      { value: 5, count: 2 },
    ];
    expect(checkCounts(counted, "USD")).toEqual([]);
    expect(countCash(counted)).toBe(17_250);
    expect(countCash([])).toBe(0);
  });

  test.each<[string, { value: number; count: number }[], string]>([
    ["a note that is not in use", [{ value: 300, count: 1 }], "counts.0.value"],
    [
      "the same note twice",
      [
        { value: 500, count: 1 },
        { value: 500, count: 2 },
      ],
      "counts.1.value",
    ],
    ["less than nothing", [{ value: 500, count: -1 }], "counts.0.count"],
    ["half a note", [{ value: 500, count: 0.5 }], "counts.0.count"],
    ["an endless pile", [{ value: 500, count: 100_000 }], "counts.0.count"],
  ])("refuses %s", (_, counts, field) => {
    expect(checkCounts(counts, "USD").map((error) => error.field)).toEqual([field]);
  });

  test("that passes is always a safe amount", () => {
    const currency = fc.constantFrom(...Object.keys(denominationRows), "PLN", "KWD", "VND");
    fc.assert(
      fc.property(currency, fc.infiniteStream(fc.nat(99_999)), (code, piles) => {
        const counts = valuesOf(code).map((value) => ({ value, count: piles.next().value ?? 0 }));
        expect(checkCounts(counts, code)).toEqual([]);
        expect(Number.isSafeInteger(countCash(counts))).toBe(true);
      }),
    );
  });
});
