import { expect, test } from "vitest";
import { nextTry, triedFor } from "../../src/rules/mail-tries.ts";

const since = new Date("2026-11-27T20:00:00Z");
const after = (milliseconds: number) => new Date(since.getTime() + milliseconds);
const minute = 60_000;

test("the waits double from a minute up to an hour", () => {
  const waits = [1, 2, 3, 4, 5, 6, 7, 8, 30].map(
    (tries) => (nextTry(tries, since, since)!.getTime() - since.getTime()) / minute,
  );
  expect(waits).toEqual([1, 2, 4, 8, 16, 32, 60, 60, 60]);
});

test("the last try is a day after the first, and then it is given up", () => {
  expect(nextTry(30, since, after(triedFor - 20 * minute))).toEqual(after(triedFor));
  expect(nextTry(31, since, after(triedFor))).toBeUndefined();
  expect(nextTry(1, since, after(triedFor + minute))).toBeUndefined();
  expect(triedFor).toBe(86_400_000);
});
