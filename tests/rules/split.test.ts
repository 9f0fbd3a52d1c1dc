import fc from "fast-check";
import { expect, test } from "vitest";
import { total } from "../../src/rules/money.ts";
import { splitByLargestRemainder } from "../../src/rules/split.ts";

// Hamilton's largest remainder method; values worked out with exact fractions.
test.each([
  [100, [1, 1, 1], [34, 33, 33]],
  [5, [1, 1], [3, 2]],
  [5, [3, 3, 4], [2, 1, 2]],
  [1000, [4500, 3250, 1875], [467, 338, 195]],
  [731, [12500, 8000, 6250, 1725], [321, 205, 161, 44]],
  [536, [18, 24, 36], [124, 165, 247]],
  [109, [499, 499, 499], [37, 36, 36]],
  [-100, [1, 1, 1], [-34, -33, -33]],
  [0, [1, 2], [0, 0]],
  [7, [0, 1], [0, 7]],
])("%i over %j is %j", (amount, weights, expected) => {
  expect(splitByLargestRemainder(amount, weights)).toEqual(expected);
});

test("shows the Alabama paradox, so parts are stored and not worked out again", () => {
  expect(splitByLargestRemainder(10, [6, 6, 2])).toEqual([4, 4, 2]);
  expect(splitByLargestRemainder(11, [6, 6, 2])).toEqual([5, 5, 1]);
});

test("refuses weights that say nothing", () => {
  expect(() => splitByLargestRemainder(10, [])).toThrow("over nothing");
  expect(() => splitByLargestRemainder(10, [0, 0])).toThrow("over nothing");
  expect(() => splitByLargestRemainder(10, [2, -1])).toThrow("below zero");
  expect(() => splitByLargestRemainder(0.5, [1])).toThrow(RangeError);
});

test("gives every part its exact share rounded down or up, and loses nothing", () => {
  const weightLists = fc.array(fc.integer({ min: 0, max: 1_000_000 }), { minLength: 1 });
  const amounts = fc.integer({ min: -100_000_000, max: 100_000_000 });
  fc.assert(
    fc.property(amounts, weightLists, (amount, weights) => {
      const allWeights = total(weights);
      fc.pre(allWeights > 0);
      const parts = splitByLargestRemainder(amount, weights);
      expect(total(parts)).toBe(amount);
      for (const [index, part] of parts.entries()) {
        const size = BigInt(Math.abs(part)) * BigInt(allWeights);
        const exact = BigInt(Math.abs(amount)) * BigInt(weights[index]!);
        expect(size - exact < BigInt(allWeights) && exact - size < BigInt(allWeights)).toBe(true);
        expect(Object.is(part, -0)).toBe(false);
      }
    }),
  );
});
