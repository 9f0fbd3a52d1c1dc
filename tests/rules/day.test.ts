import { describe, expect, test } from "vitest";
import { dayIn, dayText, spanText } from "../../src/rules/day.ts";

describe("days", () => {
  test("a moment belongs to the day of the guild's clocks", () => {
    const at = new Date("2026-11-28T03:30:00Z");
    expect(dayIn(at, "America/Chicago")).toBe("2026-11-27");
    expect(dayIn(at, "Europe/Berlin")).toBe("2026-11-28");
    expect(dayIn(new Date("2026-11-27T12:00:00Z"), "Pacific/Kiritimati")).toBe("2026-11-28");
  });

  test("a calendar day reads the same whatever the clocks of the machine say", () => {
    expect(dayText("2026-11-27", "en-US")).toBe("Nov 27, 2026");
    expect(dayText("2026-03-01", "de-DE")).toBe("01.03.2026");
  });

  test("a span names both ends and a single day stands alone", () => {
    expect(spanText("2026-11-27", "2026-11-29", "en-US")).toMatch(/^Nov 27\s–\s29, 2026$/u);
    expect(spanText("2026-11-27", "2026-11-27", "en-US")).toBe("Nov 27, 2026");
  });
});
