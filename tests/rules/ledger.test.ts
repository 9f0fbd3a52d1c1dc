import fc from "fast-check";
import { expect, test } from "vitest";
import {
  accounts,
  assertBalanced,
  drawer,
  entry,
  member,
  merge,
  negate,
} from "../../src/rules/ledger.ts";

test("account keys are all different", () => {
  const keys = [...Object.values(accounts), drawer("1"), member("1"), drawer("2")];
  expect(new Set(keys).size).toBe(keys.length);
  expect([drawer("t"), member("m")]).toEqual(["drawer/t", "member/m"]);
});

test("an entry that does not balance throws with its sum", () => {
  expect(() => assertBalanced([{ account: "bank", amount: 5 }])).toThrow("not 5");
  expect(() => entry([{ account: "bank", amount: -7 }])).toThrow("not -7");
  expect(() => assertBalanced([{ account: "bank", amount: 0.5 }])).toThrow(RangeError);
  expect(() => assertBalanced([])).not.toThrow();
});

test("postings of one account become one, and zeros go", () => {
  expect(
    merge([
      { account: "bank", amount: 5 },
      { account: "fees", amount: -3 },
      { account: "bank", amount: -2 },
      { account: "suspense", amount: 4 },
      { account: "suspense", amount: -4 },
    ]),
  ).toEqual([
    { account: "bank", amount: 3 },
    { account: "fees", amount: -3 },
  ]);
});

test("an entry and its opposite leave nothing", () => {
  const postings = fc.array(
    fc.record({ account: fc.constantFrom("a", "b", "c"), amount: fc.integer() }),
  );
  fc.assert(
    fc.property(postings, (drawn) => {
      expect(merge([...drawn, ...negate(drawn)])).toEqual([]);
    }),
  );
  expect(Object.is(negate([{ account: "a", amount: 0 }])[0]!.amount, 0)).toBe(true);
});
