import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  agePayables,
  daysBetween,
  type Payable,
  reminderDue,
} from "../../../src/rules/paying/unclaimed.ts";

const zone = "America/New_York";
const payable = (over: Partial<Payable> = {}): Payable => ({
  memberId: "a",
  amount: 4940,
  owedSince: "2026-12-01T17:00:00Z",
  reminded: [],
  ...over,
});
const shown = (at: string, payables: Payable[], limits?: number[]) =>
  agePayables(payables, at, zone, limits).map(({ from, to, total, payables: inside }) => [
    from,
    to,
    total,
    inside.map(({ memberId }) => memberId).join(""),
  ]);

describe("days on the guild's calendar", () => {
  test.each([
    // 23:30 and 00:30 in New York are an hour and a day apart; in UTC it is one day.
    ["2026-12-02T04:30:00Z", "2026-12-02T05:30:00Z", 1],
    ["2026-12-01T17:00:00Z", "2026-12-02T04:59:00Z", 0],
    // The clocks change on 8 March 2026: a day of 23 hours is a day.
    ["2026-03-08T04:00:00Z", "2026-03-09T04:00:00Z", 2],
    ["2026-11-01T04:00:00Z", "2026-11-02T04:59:00Z", 0],
    ["2024-02-28T17:00:00Z", "2024-03-01T17:00:00Z", 2],
    ["2026-12-05T17:00:00Z", "2026-12-01T17:00:00Z", 0],
  ])("from %s to %s are %i", (from, to, days) => {
    expect(daysBetween(from, to, zone)).toBe(days);
  });
});

describe("ages of what is owed", () => {
  test("changes span on the day after the limit", () => {
    expect(shown("2026-12-31T17:00:00Z", [payable()])[0]).toEqual([0, 30, 4940, "a"]);
    expect(shown("2027-01-01T17:00:00Z", [payable()])).toEqual([
      [0, 30, 0, ""],
      [31, 60, 4940, "a"],
      [61, 90, 0, ""],
      [91, null, 0, ""],
    ]);
  });

  test("puts the oldest first and adds each span up", () => {
    const payables = [
      payable({ memberId: "b", amount: 5, owedSince: "2026-11-01T17:00:00Z" }),
      payable({ memberId: "c", amount: 7, owedSince: "2026-10-01T17:00:00Z" }),
      payable(),
    ];
    expect(shown("2026-12-02T17:00:00Z", payables, [10])).toEqual([
      [0, 10, 4940, "a"],
      [11, null, 12, "cb"],
    ]);
  });

  test("after a hundred years it is still owed", () => {
    expect(shown("2126-12-01T17:00:00Z", [payable()]).at(-1)).toEqual([91, null, 4940, "a"]);
  });

  test("every payable is in one span and nothing gets lost", () => {
    const days = fc.date({
      min: new Date("2020-01-01"),
      max: new Date("2030-01-01"),
      noInvalidDate: true,
    });
    const some = fc.record({ amount: fc.integer({ min: 1, max: 1_000_000 }), since: days });
    fc.assert(
      fc.property(fc.array(some), days, (rows, at) => {
        const given = rows.map(({ amount, since }, index) =>
          payable({ memberId: String(index), amount, owedSince: since.toISOString() }),
        );
        const buckets = agePayables(given, at.toISOString(), zone);
        const sum = rows.reduce((all, { amount }) => all + amount, 0);
        expect(buckets.reduce((all, bucket) => all + bucket.total, 0)).toBe(sum);
        const members = buckets.flatMap((bucket) => bucket.payables.map((one) => one.memberId));
        expect(members.sort()).toEqual(given.map(({ memberId }) => memberId).sort());
      }),
      { numRuns: 50 },
    );
  });

  test("refuses what is not owed to a member, and limits that make no spans", () => {
    for (const amount of [0, -1, 0.5])
      expect(() => shown("2027-01-01T17:00:00Z", [payable({ amount })])).toThrow(RangeError);
    for (const limits of [[30, 30], [60, 30], [-1]])
      expect(() => shown("2027-01-01T17:00:00Z", [], limits)).toThrow(RangeError);
  });
});

describe("reminders", () => {
  const plan = { first: 30, again: 90 };
  const due = (at: string, reminded: string[] = []) =>
    reminderDue(payable({ reminded }), at, zone, plan);

  test("come on the day itself, once", () => {
    expect(due("2026-12-30T17:00:00Z")).toBeNull();
    expect(due("2026-12-31T17:00:00Z")).toBe(1);
    expect(due("2026-12-31T18:00:00Z", ["2026-12-31T17:00:00Z"])).toBeNull();
  });

  test("go on for as long as the money waits, counted from the last", () => {
    const first = ["2027-01-20T17:00:00Z"];
    expect(due("2027-04-19T16:00:00Z", first)).toBeNull();
    expect(due("2027-04-20T16:00:00Z", first)).toBe(2);
    expect(due("2027-06-01T17:00:00Z", [...first, "2027-04-20T16:00:00Z"])).toBeNull();
    expect(due("2050-01-01T17:00:00Z", [...first, "2027-04-20T16:00:00Z"])).toBe(3);
  });

  test("need at least a day between them", () => {
    for (const wrong of [
      { first: 0, again: 90 },
      { first: 30, again: 0 },
    ])
      expect(() => reminderDue(payable(), "2027-01-01T17:00:00Z", zone, wrong)).toThrow(RangeError);
  });
});
