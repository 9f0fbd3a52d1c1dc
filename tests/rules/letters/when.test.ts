import fc from "fast-check";
import { expect, test } from "vitest";
import { readReminderDays } from "../../../src/rules/letters/reminder-days.ts";
import {
  byDay,
  dueReminder,
  isEve,
  morningOf,
  nextMorning,
} from "../../../src/rules/letters/when.ts";

const zone = "America/Chicago";
const at = (text: string) => new Date(text);

test("a morning is at eight on the guild's clock, also on the days on which it is changed", () => {
  expect(morningOf("2026-11-20", zone)).toEqual(at("2026-11-20T14:00:00Z"));
  expect(morningOf("2026-07-20", zone)).toEqual(at("2026-07-20T13:00:00Z"));
  expect(morningOf("2026-03-08", zone)).toEqual(at("2026-03-08T13:00:00Z"));
  expect(morningOf("2026-11-01", zone)).toEqual(at("2026-11-01T14:00:00Z"));
  expect(morningOf("2026-11-20", "Pacific/Auckland")).toEqual(at("2026-11-19T19:00:00Z"));
});

test("what is due by day goes at once, by night in the morning", () => {
  expect(byDay(at("2026-11-18T20:00:00Z"), zone)).toEqual(at("2026-11-18T20:00:00Z"));
  expect(byDay(at("2026-11-19T03:00:00Z"), zone)).toEqual(at("2026-11-19T14:00:00Z"));
  expect(byDay(at("2026-11-19T09:00:00Z"), zone)).toEqual(at("2026-11-19T14:00:00Z"));
  expect(nextMorning(at("2026-11-19T14:00:00Z"), zone)).toEqual(at("2026-11-20T14:00:00Z"));
});

const sale = { entryDeadline: at("2026-11-21T05:59:00Z"), reminderDays: [14, 2] };

test.each([
  ["2026-11-06T13:59:59Z", undefined],
  ["2026-11-06T14:00:00Z", 14],
  ["2026-11-18T13:59:59Z", 14],
  ["2026-11-18T14:00:00Z", 2],
  ["2026-11-21T05:58:59Z", 2],
  ["2026-11-21T05:59:00Z", undefined],
])("at %s the reminder of %s days is due", (now, daysBefore) => {
  // The deadline is late on the 20th where the guild is, though it is the 21st in UTC.
  const due = dueReminder(sale, at(now), zone);
  expect(due).toEqual(daysBefore && { day: "2026-11-20", daysBefore });
});

test("a sale whose deadline is changed over the clock's change still counts days of the calendar", () => {
  const march = { entryDeadline: at("2026-03-09T04:00:00Z"), reminderDays: [2] };
  expect(dueReminder(march, at("2026-03-06T13:59:00Z"), zone)).toBeUndefined();
  expect(dueReminder(march, at("2026-03-06T14:00:00Z"), zone)?.day).toBe("2026-03-08");
});

test("no reminder is due when the sale wants none", () => {
  expect(dueReminder({ ...sale, reminderDays: [] }, at("2026-11-20T14:00:00Z"), zone)).toBe(
    undefined,
  );
});

test("the eve of a time begins the morning before and ends with the time", () => {
  const time = at("2026-11-26T15:00:00Z");
  const eve = (now: string) => isEve(time, at(now), zone);
  expect(["2026-11-25T13:59:00Z", "2026-11-26T15:00:00Z"].map(eve)).toEqual([false, false]);
  expect(["2026-11-25T14:00:00Z", "2026-11-26T14:59:00Z"].map(eve)).toEqual([true, true]);
});

test("letters never leave by night, wherever the guild is", () => {
  const zones = fc.constantFrom("America/Chicago", "Europe/Paris", "Asia/Kolkata", "Pacific/Apia");
  const moment = fc.date({ min: at("2020-01-01"), max: at("2040-01-01"), noInvalidDate: true });
  fc.assert(
    fc.property(moment, zones, (now, timeZone) => {
      const leaves = byDay(now, timeZone);
      const shown = new Intl.DateTimeFormat("en-GB", {
        timeZone,
        hour: "2-digit",
        hourCycle: "h23",
      });
      const hour = Number(shown.format(leaves));
      expect(hour >= 8 && hour < 20).toBe(true);
      expect(leaves >= now && leaves.getTime() - now.getTime() < 13.1 * 3_600_000).toBe(true);
    }),
  );
});

test("days before are read as people write them", () => {
  const read = (text: string) => readReminderDays(text);
  expect(read(" 2, 14 ;14")).toEqual({ ok: true, value: [14, 2] });
  expect(read("")).toEqual({ ok: true, value: [] });
  for (const wrong of ["0", "61", "two", "1,2,3,4,5", "-3", "1.5"])
    expect(read(wrong), wrong).toMatchObject({ problem: { errors: [{ field: "days" }] } });
});
