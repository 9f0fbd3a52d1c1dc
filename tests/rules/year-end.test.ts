import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type ReportingThreshold, type YearFact, yearTotals } from "../../src/rules/year-end.ts";

const zone = "America/Los_Angeles";
const fact = (over: Partial<YearFact> = {}): YearFact => ({
  memberId: "a",
  at: "2026-11-21T18:00:00Z",
  sold: 0,
  kept: 0,
  paid: 0,
  ...over,
});
const reported = (facts: YearFact[], threshold: ReportingThreshold | null) =>
  yearTotals(facts, 2026, zone, threshold).map(({ toReport }) => toReport);

describe("totals of a year", () => {
  test("add up per member over all sales", () => {
    const facts = [
      fact({ memberId: "b", sold: 6800, kept: 1360 }),
      fact({ sold: 2185, kept: 437 }),
      fact({ memberId: "b", sold: -6800, kept: -1360, at: "2026-03-01T18:00:00Z" }),
      fact({ memberId: "b", paid: 100 }),
    ];
    expect(yearTotals(facts, 2026, zone, null)).toEqual([
      { memberId: "b", sold: 0, kept: 0, paid: 100, toReport: false },
      { memberId: "a", sold: 2185, kept: 437, paid: 0, toReport: false },
    ]);
  });

  test("belong to the year on the guild's wall calendar", () => {
    const facts = [
      fact({ at: "2026-01-01T07:59:59Z", paid: 1 }),
      fact({ at: "2026-01-01T08:00:00Z", paid: 10 }),
      fact({ at: "2027-01-01T07:59:59Z", paid: 100 }),
      fact({ at: "2027-01-01T08:00:00Z", paid: 1000 }),
    ];
    expect(yearTotals(facts, 2026, zone, null).map(({ paid }) => paid)).toEqual([110]);
    expect(yearTotals(facts, 2025, zone, null).map(({ paid }) => paid)).toEqual([1]);
    expect(yearTotals(facts, 2024, zone, null)).toEqual([]);
  });

  test("all years together are all facts", () => {
    const row = fc.record({
      at: fc
        .date({ min: new Date("2024-01-01"), max: new Date("2028-01-01"), noInvalidDate: true })
        .map((date) => date.toISOString()),
      memberId: fc.constantFrom("a", "b", "c"),
      sold: fc.integer(),
      kept: fc.integer(),
      paid: fc.integer(),
    });
    fc.assert(
      fc.property(fc.array(row), (facts) => {
        const years = [2023, 2024, 2025, 2026, 2027, 2028];
        const totals = years.flatMap((year) => yearTotals(facts, year, zone, null));
        for (const key of ["sold", "kept", "paid"] as const) {
          const sum = (rows: Record<typeof key, number>[]) =>
            rows.reduce((all, one) => all + one[key], 0);
          expect(sum(totals)).toBe(sum(facts));
        }
      }),
      { numRuns: 50 },
    );
  });
});

describe("a threshold for reporting", () => {
  // Laws say "2,000 or more" (United States, from 2026, from memory) or "over 1,000" (United Kingdom).
  test.each([
    ["at", 199_999, false],
    ["at", 200_000, true],
    ["at", 200_001, true],
    ["over", 199_999, false],
    ["over", 200_000, false],
    ["over", 200_001, true],
  ] as const)("%s 2,000.00 with %i paid: %s", (from, paid, toReport) => {
    const threshold: ReportingThreshold = { amount: 200_000, counts: "paid", from };
    expect(reported([fact({ paid: paid - 1 }), fact({ paid: 1 })], threshold)).toEqual([toReport]);
  });

  test("counts what the guild says, and each member alone", () => {
    const facts = [fact({ sold: 500, paid: 400 }), fact({ memberId: "b", sold: 300, paid: 300 })];
    expect(reported(facts, { amount: 500, counts: "sold", from: "at" })).toEqual([true, false]);
    expect(reported(facts, { amount: 500, counts: "paid", from: "at" })).toEqual([false, false]);
    expect(reported(facts, null)).toEqual([false, false]);
  });

  test("cannot be nothing, and amounts are whole", () => {
    expect(() => reported([], { amount: 0, counts: "paid", from: "at" })).toThrow(RangeError);
    expect(() => reported([fact({ paid: 0.5 })], null)).toThrow(RangeError);
  });
});
