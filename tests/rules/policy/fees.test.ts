import fc from "fast-check";
import { expect, test } from "vitest";
import { total } from "../../../src/rules/money.ts";
import { type FeeFacts, feesOf } from "../../../src/rules/policy/fees.ts";
import { policies } from "./support.ts";

// An entry fee of 20, or 10 for newcomers, stands in printed rules of a weavers' guild; missed
// shifts at 20 to 40 in those of consignment sales. Late fees: common practice, no source.
const policy = {
  ...{ entry: 2000, firstEntry: 1000, late: 150, lateFor: "item" as const, missedShift: 2500 },
};
const facts: FeeFacts = { itemsEntered: 12, itemsLate: 0, firstSale: false, shiftsMissed: 0 };

test.each([
  ["an ordinary member", {}, [["entry", 1, 2000]]],
  ["a newcomer", { firstSale: true }, [["entry", 1, 1000]]],
  ["nothing entered", { itemsEntered: 0 }, []],
  [
    "three late items",
    { itemsLate: 3 },
    [
      ["entry", 1, 2000],
      ["late", 3, 450],
    ],
  ],
  [
    "nothing entered, two shifts missed",
    { itemsEntered: 0, shiftsMissed: 2 },
    [["missed-shift", 2, 5000]],
  ],
])("%s", (_, change, expected) => {
  const fees = feesOf(policy, { ...facts, ...change });
  expect(fees.map(({ kind, count, amount }) => [kind, count, amount])).toEqual(expected);
});

test("late may be charged once, and newcomers may pay what all pay or nothing", () => {
  const late = { ...facts, itemsLate: 3, firstSale: true };
  const amounts = (change: object) =>
    feesOf({ ...policy, ...change }, late).map((one) => one.amount);
  expect(amounts({ lateFor: "member" })).toEqual([1000, 150]);
  expect(amounts({ firstEntry: null })).toEqual([2000, 450]);
  expect(amounts({ firstEntry: 0 })).toEqual([450]);
});

test("counts that cannot be are refused", () => {
  expect(() => feesOf(policy, { ...facts, shiftsMissed: -1 })).toThrow("Not a count");
  expect(() => feesOf(policy, { ...facts, itemsEntered: 0.5 })).toThrow("Not a count");
  expect(() => feesOf(policy, { ...facts, itemsLate: 13 })).toThrow("cannot be");
});

test("each fee is its count times its amount, and more lateness never costs less", () => {
  const counts = fc.integer({ min: 0, max: 9 });
  fc.assert(
    fc.property(policies, counts, counts, fc.boolean(), ({ fees }, late, missed, firstSale) => {
      const cost = (itemsLate: number, shiftsMissed: number) => {
        const charged = feesOf(fees, { itemsEntered: 20, itemsLate, firstSale, shiftsMissed });
        for (const { count, each, amount } of charged) {
          expect(amount).toBe(count * each);
          expect(amount).toBeGreaterThan(0);
        }
        return total(charged.map(({ amount }) => amount));
      };
      expect(cost(late + 1, missed)).toBeGreaterThanOrEqual(cost(late, missed));
      expect(cost(late, missed + 1) - cost(late, missed)).toBe(fees.missedShift);
    }),
  );
});
