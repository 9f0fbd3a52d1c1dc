import fc from "fast-check";
import { expect, test } from "vitest";
import { type LossPolicy, lossOf } from "../../../src/rules/policy/loss.ts";
import { policies } from "./support.ts";

const missing = (price: number, quantity = 1, rate = 20_000) => ({
  ...{ itemId: "item", price, quantity, rate },
});

// "No insurance" and "price less share up to 200, half above" stand in printed rules of weavers'
// guilds; a plain cap is common practice, no source. Amounts by hand, at a percentage of 20.
const halfAbove: LossPolicy = { rule: "capped", cap: 20_000, aboveCap: 50_000 };
const nothingAbove: LossPolicy = { rule: "capped", cap: 20_000, aboveCap: 0 };
test.each<[LossPolicy, number, number]>([
  [{ rule: "none" }, 25_000, 0],
  [{ rule: "price-less-share" }, 25_000, 20_000],
  [{ rule: "price-less-share" }, 40_000, 32_000],
  [{ rule: "price-less-share" }, 1_003, 802],
  [halfAbove, 25_000, 20_000],
  [halfAbove, 40_000, 26_000],
  [halfAbove, 25_001, 20_001],
  [nothingAbove, 24_999, 19_999],
  [nothingAbove, 40_000, 20_000],
])("%j for a piece of %i: %i", (policy, price, expected) => {
  expect(lossOf(policy, missing(price), "up").each).toBe(expected);
});

test("each of several pieces has the cap to itself", () => {
  expect(lossOf(nothingAbove, missing(40_000, 3), "up")).toEqual({
    ...{ itemId: "item", quantity: 3, each: 20_000, amount: 60_000 },
  });
});

test("a piece given to the guild is worth nothing to its maker", () => {
  expect(lossOf({ rule: "price-less-share" }, missing(40_000, 1, 100_000), "up").amount).toBe(0);
});

test("halves go where the guild sends them", () => {
  // 50 % of 0.25 is 0.125: a share of 0.13 or 0.12.
  const piece = missing(25, 1, 50_000);
  expect(lossOf({ rule: "price-less-share" }, piece, "up").each).toBe(12);
  expect(lossOf({ rule: "price-less-share" }, piece, "even").each).toBe(13);
});

test("pieces that cannot be are refused", () => {
  expect(() => lossOf({ rule: "none" }, missing(100, -1), "up")).toThrow("Not missing");
  expect(() => lossOf({ rule: "none" }, missing(0.5), "up")).toThrow("Not missing");
});

test("nobody is paid more for a lost piece than for a sold one, nor less for a dearer one", () => {
  const prices = fc.integer({ min: 0, max: 1_000_000 });
  fc.assert(
    fc.property(policies, prices, fc.nat(100_000), ({ loss, rounding }, price, rate) => {
      const paid = (of: number) => lossOf(loss, missing(of, 1, rate), rounding.halves).each;
      const sold = lossOf({ rule: "price-less-share" }, missing(price, 1, rate), rounding.halves);
      expect(paid(price)).toBeGreaterThanOrEqual(0);
      expect(paid(price)).toBeLessThanOrEqual(sold.each);
      expect(paid(price + 100)).toBeGreaterThanOrEqual(paid(price));
    }),
  );
});
