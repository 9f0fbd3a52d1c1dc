import fc from "fast-check";
import { expect, test } from "vitest";
import { hoursText, parseHours } from "../../src/rules/work-hours.ts";

test.each([
  ["2", 120],
  ["2:30", 150],
  ["0:30", 30],
  ["2.5", 150],
  ["2,25 h", 135],
  [" 1.33 hours", 80],
  ["999", 59_940],
])("%s are so many minutes", (text, minutes) => {
  expect(parseHours(text, "hours")).toEqual({ ok: true, value: minutes });
});

test.each([
  "",
  "two",
  "2:75",
  "2:5",
  "-1",
  "0",
  "0:00",
  "0.001",
  "1.234",
  "1000",
  "999:30",
  "2:30:00",
])("%s is refused at its field", (text) => {
  const read = parseHours(text, "rates.hours.0.fromMinutes");
  expect(!read.ok && read.problem.errors[0]?.field).toBe("rates.hours.0.fromMinutes");
});

test("every time comes back as it was written into the field", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 59_940 }), (minutes) => {
      expect(parseHours(hoursText(minutes), "hours")).toEqual({ ok: true, value: minutes });
    }),
  );
});
