import fc from "fast-check";
import { expect, test } from "vitest";
import { partWords, percentOf } from "../../../src/rules/sold/small-counts.ts";

test.each([
  [3, 9, "3 of 9"],
  [9, 9, "9 of 9"],
  [0, 0, "0 of 0"],
  [13, 14, "13 of 14 (93 %)"],
  [5, 10, "5 of 10 (50 %)"],
  [1, 400, "1 of 400 (1 %)"],
  [399, 400, "399 of 400 (99 %)"],
  [0, 12, "0 of 12 (0 %)"],
  [12, 12, "12 of 12 (100 %)"],
  [11, 10, "11 of 10"],
])("%i of %i is said as %s", (part, whole, words) => {
  expect(partWords(part, whole)).toBe(words);
});

test("below ten there is never a percentage, and a whole one only for all or nothing", () => {
  fc.assert(
    fc.property(fc.nat(9), fc.integer({ min: 10, max: 5_000 }), fc.nat(5_000), (few, whole, n) => {
      expect(partWords(Math.min(n, few), few)).not.toContain("%");
      const part = Math.min(n, whole);
      const percent = percentOf(part, whole)!;
      expect(percent === 100).toBe(part === whole);
      expect(percent === 0).toBe(part === 0);
      if (part > 0 && part < whole)
        expect(Math.abs(percent * whole - part * 100)).toBeLessThanOrEqual(whole);
    }),
  );
});
