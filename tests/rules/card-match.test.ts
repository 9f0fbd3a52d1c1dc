import fc from "fast-check";
import { expect, test } from "vitest";
import { strangeBankDay } from "../../src/rules/bank-day.ts";
import { matchCards } from "../../src/rules/card-match.ts";

const friday = "2026-11-27";

test("a till's total is compared with that till, a common one with the day", () => {
  const recorded = [
    { day: friday, till: 1, amount: 5_000 },
    { day: friday, till: 2, amount: 3_000 },
  ];
  expect(matchCards(recorded, [{ day: friday, till: 1, gross: 5_010 }])).toEqual([
    { day: friday, till: 1, recorded: 5_000, terminal: 5_010, difference: 10 },
    { day: friday, till: 2, recorded: 3_000, terminal: null, difference: null },
    // Not before every till's total is there: the missing one would look like missing money.
    { day: friday, till: null, recorded: 8_000, terminal: null, difference: null },
  ]);
  expect(matchCards(recorded, [{ day: friday, till: null, gross: 8_000 }]).at(-1)).toEqual({
    ...{ day: friday, till: null, recorded: 8_000, terminal: 8_000, difference: 0 },
  });
});

test("a total of a day without card payments is a difference, not lost", () => {
  expect(matchCards([], [{ day: friday, till: 2, gross: 700 }])).toMatchObject([
    { till: 2, recorded: 0, difference: 700 },
    { till: null, recorded: 0, difference: 700 },
  ]);
});

const day = fc.constantFrom(friday, "2026-11-28", "2026-11-29");
const recorded = fc.array(
  fc.record({
    day,
    till: fc.integer({ min: 1, max: 3 }),
    amount: fc.integer({ min: -900, max: 9_000 }),
  }),
);
const totals = fc.array(
  fc.record({
    day,
    till: fc.option(fc.integer({ min: 1, max: 3 })),
    gross: fc.integer({ min: 1, max: 9_000 }),
  }),
);

test("the days hold everything that was recorded, and nothing twice", () => {
  fc.assert(
    fc.property(recorded, totals, (rows, typed) => {
      const days = matchCards(rows, typed).filter(({ till }) => till === null);
      const sum = (all: readonly number[]) => all.reduce((before, one) => before + one, 0);
      expect(sum(days.map((one) => one.recorded))).toBe(sum(rows.map(({ amount }) => amount)));
      const whole = days.flatMap((one) => (one.terminal === null ? [] : [one]));
      for (const one of whole) {
        const gross = typed.filter((row) => row.day === one.day).map((row) => row.gross);
        expect(one.terminal).toBe(sum(gross));
        expect(one.difference).toBe(sum(gross) - one.recorded);
      }
    }),
  );
});

test("a day has come, and is not long before the sale", () => {
  const of = (bankDay: string) => strangeBankDay(bankDay, friday, "2026-11-30");
  expect([of(friday), of("2026-11-30"), of("2026-10-27")]).toEqual([
    undefined,
    undefined,
    undefined,
  ]);
  expect(of("2026-12-01")).toMatch(/not come yet/);
  expect(of("2026-10-26")).toMatch(/long before/);
});
