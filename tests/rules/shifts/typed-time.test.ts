import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { lengthText } from "../../../src/rules/shifts/shift-words.ts";
import { readDay, readLength, readTime } from "../../../src/rules/shifts/typed-time.ts";

// Common practice of the languages named; what a spreadsheet shows there.
test.each([
  ["2026-11-27", "en-US", "2026-11-27"],
  ["2026-3-8", "en-US", "2026-03-08"],
  ["11/27/2026", "en-US", "2026-11-27"],
  ["3/8/2026", "en-US", "2026-03-08"],
  ["8/3/2026", "en-GB", "2026-03-08"],
  ["27/11/2026", "fr-FR", "2026-11-27"],
  ["27.11.2026", "de-DE", "2026-11-27"],
  ["8.3.2026", "en-US", "2026-03-08"],
  ["27/11/2026", "en-US", undefined],
  ["2026-02-30", "en-US", undefined],
  ["11/27/26", "en-US", undefined],
  ["Friday", "en-US", undefined],
  ["", "en-US", undefined],
])("the day %j in %s is %s", (text, locale, day) => {
  expect(readDay(text, locale)).toBe(day);
});

test.each([
  ["9:00", "09:00"],
  ["09:00", "09:00"],
  ["13.30", "13:30"],
  ["13:30:00", "13:30"],
  ["1 pm", "13:00"],
  ["1:15 p.m.", "13:15"],
  ["12 am", "00:00"],
  ["12:15 AM", "00:15"],
  ["12 PM", "12:00"],
  ["0:05", "00:05"],
  ["9", undefined],
  ["24:00", undefined],
  ["13 pm", undefined],
  ["9:60", undefined],
  ["noon", undefined],
  ["9m", undefined],
  ["", undefined],
])("the time %j is %s", (text, time) => {
  expect(readTime(text)).toBe(time);
});

describe("a length of work", () => {
  test.each([
    ["2:30", 150],
    ["2 h 30 min", 150],
    ["2 hours 30 minutes", 150],
    ["2.5", 150],
    ["2,5", 150],
    ["0.25", 15],
    ["3", 180],
    ["3 h", 180],
    ["45 min", 45],
    ["180 min", 180],
    ["2:75", undefined],
    ["2.33", undefined],
    ["-2", undefined],
    ["two", undefined],
    ["", undefined],
  ])("%j is %s minutes", (text, minutes) => {
    expect(readLength(text)).toBe(minutes);
  });

  test("is read back as it was written, to the minute", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_440 }), (minutes) => {
        expect(readLength(lengthText(minutes))).toBe(minutes);
        expect(readLength(`${minutes} min`)).toBe(minutes);
      }),
    );
  });
});
