import fc from "fast-check";
import { expect, test } from "vitest";
import { checkPolicy } from "../../../src/rules/policy/check-policy.ts";
import { firstPolicy, type Policy } from "../../../src/rules/policy/policy.ts";
import { policies } from "./support.ts";

const first = firstPolicy(20_000);
const { rates, fees, cardFee, payout } = first;
const fields = (change: Partial<Policy>) =>
  checkPolicy({ ...first, ...change }).map(({ field }) => field);

const yarn = { kind: "yarn", name: "Yarn", rate: 10_000, visitorsToo: false };
const young = { code: "young", name: "Young members", rate: 10_000 };

test.each<[string, Partial<Policy>]>([
  ["rates.ordinary", { rates: { ...rates, ordinary: 100_001 } }],
  ["rates.visitor", { rates: { ...rates, visitor: -1 } }],
  ["rates.classes.1.code", { rates: { ...rates, classes: [young, young] } }],
  ["rates.kinds.1.kind", { rates: { ...rates, kinds: [yarn, yarn] } }],
  ["rates.kinds.0.rate", { rates: { ...rates, kinds: [{ ...yarn, rate: 0.5 }] } }],
  ["rates.hours.0.fromMinutes", { rates: { ...rates, hours: [{ fromMinutes: 0, rate: 0 }] } }],
  [
    "rates.hours.1.fromMinutes",
    {
      rates: {
        ...rates,
        hours: [
          { fromMinutes: 120, rate: 20_000 },
          { fromMinutes: 120, rate: 10_000 },
        ],
      },
    },
  ],
  ["fees.missedShift", { fees: { ...fees, missedShift: -1 } }],
  ["fees.firstEntry", { fees: { ...fees, firstEntry: 0.5 } }],
  ["cardFee.fixed", { cardFee: { ...cardFee, fixed: -1 } }],
  ["cardFee.rate", { cardFee: { ...cardFee, rate: 100_001 } }],
  ["cardFee.rate", { cardFee: { way: "price", rate: 80_000, fixed: 0 } }],
  ["loss.cap", { loss: { rule: "capped", cap: -1, aboveCap: 0 } }],
  ["loss.aboveCap", { loss: { rule: "capped", cap: 1, aboveCap: 100_001 } }],
  ["payout.minimum", { payout: { ...payout, minimum: -1 } }],
  ["payout.tenders", { payout: { minimum: 0, tenders: [{ method: "cash", upTo: 2000 }] } }],
  [
    "payout.tenders.1.method",
    { payout: { ...payout, tenders: [...payout.tenders, ...payout.tenders] } },
  ],
])("finds what is wrong in %s", (field, change) => {
  expect(fields(change)).toEqual([field]);
});

test("the first policy is sound, and so is a card fee that leaves a little", () => {
  expect(checkPolicy(first)).toEqual([]);
  expect(fields({ cardFee: { way: "price", rate: 79_999, fixed: 0 } })).toEqual([]);
  expect(fields({ cardFee: { way: "guild", rate: 80_000, fixed: 0 } })).toEqual([]);
});

test("a drawn policy fails only where guild and card fee take everything", () => {
  fc.assert(
    fc.property(policies, (policy) => {
      const highest = JSON.stringify(policy.rates)
        .match(/\d+(?=[,}])/g)!
        .map(Number);
      const tooMuch = Math.max(...highest) + policy.cardFee.rate >= 100_000;
      const found = checkPolicy(policy);
      expect(found.every(({ field }) => field === "cardFee.rate")).toBe(true);
      if (!tooMuch) expect(found).toEqual([]);
    }),
  );
});
