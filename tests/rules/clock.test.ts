import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { clockAheadAt, clockOffWords, isClockOff } from "../../src/rules/clock.ts";

const minutes = (count: number) => count * 60_000;
const hours = (count: number) => minutes(60 * count);
const noon = Date.parse("2026-11-28T18:00:00Z");
const at = (milliseconds: number) => new Date(milliseconds).toISOString();
const evidence = { said: 0, openedAt: at(noon - hours(3)), arrivedAt: at(noon) };

describe("a till's clock", () => {
  test("is told of beyond two minutes, either way", () => {
    for (const ahead of [0, minutes(2), -minutes(2)]) expect(isClockOff(ahead)).toBe(false);
    for (const ahead of [minutes(2) + 1, -minutes(2) - 1]) expect(isClockOff(ahead)).toBe(true);
  });

  test.each([
    [minutes(2) + 1, "2 minutes fast"],
    [-minutes(12), "12 minutes slow"],
    [minutes(119), "119 minutes fast"],
    [hours(3), "3 hours fast"],
    [-hours(47), "47 hours slow"],
    [-hours(48), "2 days slow"],
  ])("that is %i ms ahead is %s", (ahead, words) => {
    expect(clockOffWords(ahead)).toBe(words);
  });

  test("is judged by what it said as it sent", () => {
    const said = hours(3);
    expect(clockAheadAt(at(noon + hours(1)), { ...evidence, said })).toBe(said);
  });

  test("that was set right meanwhile is given away by the receipt itself", () => {
    expect(clockAheadAt(at(noon + hours(3)), evidence)).toBe(hours(3));
    expect(clockAheadAt(at(noon - hours(48)), evidence)).toBe(-hours(45));
  });

  test("is right when a receipt lies between the opening of the drawer and its arrival", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: noon - hours(3) - minutes(2), max: noon + minutes(2) }),
        fc.integer({ min: -minutes(2), max: minutes(2) }),
        (made, said) => clockAheadAt(at(made), { ...evidence, said }) === 0,
      ),
    );
  });
});
