import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { guildRateOf, type RatePolicy } from "../../../src/rules/policy/guild-rate.ts";
import { isFarFrom, plannedTime, shiftTime } from "../../../src/rules/shifts/shift-time.ts";
import { hoursText, timesText } from "../../../src/rules/shifts/shift-words.ts";
import { done } from "../../support/build-settlement.ts";

const chicago = "America/Chicago";
const at = (day: string, start: string, end: string, zone = chicago) =>
  done(shiftTime({ day, start, end }, zone));
const refused = (day: string, start: string, end: string) => {
  const read = shiftTime({ day, start, end }, chicago);
  return read.ok ? [] : read.problem.errors.map(({ field }) => field);
};

describe("a planned shift on the clock", () => {
  // From memory: US clocks go back on the first Sunday of November and forward on the second of
  // March, at 2 in the morning; 2026 that is November 1 and March 8.
  test.each([
    ["2026-11-27", "09:00", "12:30", "2026-11-27T15:00:00.000Z", 210],
    ["2026-11-27", "22:00", "01:00", "2026-11-28T04:00:00.000Z", 180],
    ["2026-11-27", "22:00", "00:00", "2026-11-28T04:00:00.000Z", 120],
    ["2026-10-31", "22:00", "03:00", "2026-11-01T03:00:00.000Z", 360],
    ["2026-03-07", "22:00", "03:00", "2026-03-08T04:00:00.000Z", 240],
    ["2026-11-01", "00:30", "02:30", "2026-11-01T05:30:00.000Z", 180],
    ["2026-03-08", "01:30", "03:30", "2026-03-08T07:30:00.000Z", 60],
    ["2026-12-31", "23:00", "01:00", "2027-01-01T05:00:00.000Z", 120],
  ])("%s from %s to %s begins at %s and is %i minutes", (day, start, end, startsAt, minutes) => {
    expect(at(day, start, end)).toEqual({ startsAt, minutes });
  });

  test("what cannot be a shift is refused at its field", () => {
    expect(refused("2026-11-27", "09:00", "09:00")).toEqual(["end"]);
    expect(refused("2026-11-27", "14:00", "12:00")).toEqual(["end"]);
    expect(refused("2026-02-30", "09:00", "12:00")).toEqual(["start"]);
    // 2:40 does not come on that morning; an hour on it is 3:40, and 3:10 is before that.
    expect(refused("2026-03-08", "02:40", "03:10")).toEqual(["end"]);
  });

  test("is shown as it was planned, whatever the zone, away from the changes of the clock", () => {
    const zones = fc.constantFrom(chicago, "Europe/Berlin", "Asia/Kolkata", "Pacific/Auckland");
    const time = fc
      .integer({ min: 0, max: 95 })
      .map((quarter) => new Date(quarter * 900_000).toISOString().slice(11, 16));
    fc.assert(
      fc.property(zones, time, time, (zone, start, end) => {
        const given = { day: "2026-11-27", start, end };
        const read = shiftTime(given, zone);
        if (read.ok) expect(plannedTime(read.value, zone)).toEqual(given);
      }),
    );
  });

  test("words name the day only where a shift ends on another", () => {
    const text = (day: string, start: string, end: string) =>
      timesText(at(day, start, end), "en-US", chicago).replace(/\s/g, " ");
    expect(text("2026-11-27", "09:00", "12:30")).toBe("9:00 AM – 12:30 PM");
    expect(text("2026-11-27", "22:00", "01:00")).toBe("10:00 PM – 1:00 AM on Saturday");
    expect([0, 30, 60, 150].map(hoursText)).toEqual(["0 h", "30 min", "1 h", "2 h 30 min"]);
  });

  test("a year typed wrong is far away, committee work in spring is not", () => {
    const sale = { firstDay: "2026-11-27", lastDay: "2026-11-29" };
    const days = ["2025-11-27", "2027-11-27", "2026-03-01", "2026-11-27", "2027-01-10"];
    expect(days.map((day) => isFarFrom(day, sale))).toEqual([true, true, false, false, false]);
  });
});

describe("minutes worked and the hours tier", () => {
  // Printed rules of weavers' guilds ask for a 2 h shift, 4 h in all or 12 h (weaving.md 5, rule 13).
  const bounds = [120, 240, 720];

  test("whoever worked exactly a bound has reached it, a minute less has not", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 1, max: 2_000 }), { minLength: 1, maxLength: 4 }),
        fc.array(fc.integer({ min: 1, max: 600 }), { maxLength: 6 }),
        (more, shifts) => {
          const hours = [...new Set([...bounds, ...more])]
            .sort((a, b) => a - b)
            .map((fromMinutes, index) => ({ fromMinutes, rate: 29_000 - index * 1_000 }));
          const policy: RatePolicy = {
            ...{ ordinary: 30_000, visitor: null, committee: null, classes: [], kinds: [] },
            hours,
          };
          const rate = (minutesWorked: number) =>
            guildRateOf(
              policy,
              { visitor: false, committee: false, classCode: null, minutesWorked },
              { kind: "towel", donated: false },
            ).rate;
          const worked = shifts.reduce((sum, minutes) => sum + minutes, 0);
          const reached = hours.filter(({ fromMinutes }) => worked >= fromMinutes).at(-1);
          expect(rate(worked)).toBe(reached?.rate ?? 30_000);
          for (const [index, { fromMinutes, rate: own }] of hours.entries()) {
            expect(rate(fromMinutes)).toBe(own);
            expect(rate(fromMinutes - 1)).toBe(hours[index - 1]?.rate ?? 30_000);
          }
        },
      ),
    );
  });

  test("a shift over the night the clock goes back counts the hour that really passed", () => {
    const long = at("2026-10-31", "23:00", "02:00").minutes;
    expect(long).toBe(240);
    expect(at("2026-11-01", "23:00", "02:00").minutes).toBe(180);
  });
});
