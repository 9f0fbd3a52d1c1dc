import { expect, test } from "vitest";
import { checkSaleDates } from "../../src/rules/sale-dates.ts";

const dates = {
  firstDay: "2026-11-27",
  lastDay: "2026-11-29",
  entryDeadline: "2026-11-20T23:59:00Z",
};
const zone = "America/Chicago";

test("sensible dates pass, and so does a sale of one day", () => {
  expect(checkSaleDates(dates, zone)).toEqual([]);
  expect(checkSaleDates({ ...dates, lastDay: "2026-11-27" }, zone)).toEqual([]);
});

test("the last day cannot come before the first", () => {
  expect(checkSaleDates({ ...dates, lastDay: "2026-11-26" }, zone)[0]?.field).toBe("lastDay");
});

test("the deadline is judged on the guild's own calendar", () => {
  const lateEvening = { ...dates, entryDeadline: "2026-11-30T05:00:00Z" };
  expect(checkSaleDates(lateEvening, zone)).toEqual([]);
  expect(checkSaleDates(lateEvening, "Europe/Berlin")[0]?.field).toBe("entryDeadline");
});
