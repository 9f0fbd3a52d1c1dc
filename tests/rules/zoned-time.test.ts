import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { instantOf, localDayOf, localTimeOf } from "../../src/rules/zoned-time.ts";

const zones = ["America/Chicago", "Europe/Berlin", "Asia/Kolkata", "Pacific/Auckland", "UTC"];

describe("wall clocks", () => {
  // From memory: US clocks go back on the first Sunday of November and forward on the second of March.
  test.each([
    ["2026-11-20T23:59", "America/Chicago", "2026-11-21T05:59:00.000Z"],
    ["2026-07-01T12:00", "America/Chicago", "2026-07-01T17:00:00.000Z"],
    ["2026-07-01T12:00", "Asia/Kolkata", "2026-07-01T06:30:00.000Z"],
    ["2026-01-01T00:00", "Pacific/Auckland", "2025-12-31T11:00:00.000Z"],
  ])("%s in %s is %s", (local, zone, instant) => {
    expect(instantOf(local, zone)).toBe(instant);
    expect(localTimeOf(instant, zone)).toBe(local);
  });

  test("a time that comes twice means the first", () => {
    expect(instantOf("2026-11-01T01:30", "America/Chicago")).toBe("2026-11-01T06:30:00.000Z");
  });

  test("a skipped time means as long after the jump", () => {
    expect(instantOf("2026-03-08T02:30", "America/Chicago")).toBe("2026-03-08T08:30:00.000Z");
  });

  test.each(["", "2026-02-30T10:00", "2026-13-01T10:00", "2026-01-01", "2026-01-01T25:00", "soon"])(
    "%j is no time",
    (text) => {
      expect(instantOf(text, "UTC")).toBeUndefined();
    },
  );

  test("the day is the one on the wall, not the one in Greenwich", () => {
    expect(localDayOf("2026-11-21T05:59:00Z", "America/Chicago")).toBe("2026-11-20");
  });

  test("back and forth gives the same wall time, save for the skipped hour", () => {
    const minutes = fc.integer({ min: 0, max: 60 * 24 * 365 * 8 });
    fc.assert(
      fc.property(minutes, fc.constantFrom(...zones), (minute, zone) => {
        const instant = new Date(Date.UTC(2022, 0, 1) + minute * 60_000).toISOString();
        const local = localTimeOf(instant, zone);
        expect(localTimeOf(instantOf(local, zone) ?? "", zone)).toBe(local);
      }),
    );
  });
});
