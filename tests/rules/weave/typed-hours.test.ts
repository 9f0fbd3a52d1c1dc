import fc from "fast-check";
import { expect, test } from "vitest";
import { hoursText, readHours } from "../../../src/rules/weave/typed-hours.ts";

test.each<[string, number | undefined]>([
  ["", 0],
  ["1.5", 90],
  ["1,5", 90],
  ["1:30", 90],
  ["90 min", 90],
  ["0:05", 5],
  ["2 h", 120],
  ["0.33", 20],
  ["8", 480],
  ["1:60", undefined],
  ["1:5", undefined],
  ["-1", undefined],
  ["1.333", undefined],
  ["all day", undefined],
  ["99999", undefined],
])("%s is %s minutes", (text, minutes) => {
  expect(readHours(text)).toBe(minutes);
});

test("hours are told in quarters where those tell it, else with minutes", () => {
  expect([90, 60, 75, 80, 0, 45].map(hoursText)).toEqual(["1.5", "1", "1.25", "1:20", "0", "0.75"]);
});

test("what is shown reads back as the same minutes", () => {
  fc.assert(
    fc.property(fc.nat(60 * 9_999), (minutes) => {
      expect(readHours(hoursText(minutes))).toBe(minutes);
    }),
  );
});
