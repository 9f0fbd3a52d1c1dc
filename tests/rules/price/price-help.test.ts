import { describe, expect, test } from "vitest";
import { fraction } from "../../../src/rules/fraction.ts";
import { pieceCost } from "../../../src/rules/price/piece-cost.ts";
import {
  costFigures,
  type PriceQuestion,
  type PriceScene,
  priceHelp,
} from "../../../src/rules/price/price-help.ts";
import { packScene, unpackScene } from "../../../src/rules/price/slider.ts";
import { taxOnTop } from "../../../src/rules/price/tax-on-top.ts";
import { flatTax } from "../../../src/rules/tax/tax-rules.ts";
import { partsOf } from "./support.ts";

const money = (amount: number) => `$${amount / 100}`;
/** A towel of 6.31 and 0.75 with two and a half hours at 15.00. */
const towel: PriceQuestion = {
  ...{ sale: null, kind: "towel", materials: 631, notions: 75 },
  ...{ setUp: 60, weaving: 60, finishing: 30, overhead: 0, overheadRate: 0 },
  ...{ wage: 1_500, sellOfTen: 10, sharedBy: null, rate: null, price: null, sales: null },
};
const scene: PriceScene = {
  rates: [
    { why: "Under 4 hours of work", rate: 30_000, when: "now", moreMinutes: 0 },
    { why: "4 hours of work or more", rate: 20_000, when: "work", moreMinutes: 240 },
  ],
  card: { way: "guild", rate: 0, fixed: 0 },
  ...{ tax: 0, entryFee: 0 },
  prices: { priceStep: 100, priceFloor: 500, currency: "USD" },
};
const help = (question: Partial<PriceQuestion> = {}, more: Partial<PriceScene> = {}) =>
  priceHelp({ ...towel, ...question }, { ...scene, ...more }, money);

describe("an answer", () => {
  test("has a price for each percentage, and looks at the first", () => {
    const { rows, price } = help();
    expect(rows.map(({ wanted }) => wanted)).toMatchObject([
      { price: 6_400, guild: 1_920, left: 4_480, pay: 1_509, verdict: "pays" },
      { price: 5_600, guild: 1_120, left: 4_480, pay: 1_509, verdict: "pays" },
    ]);
    expect(price).toBe(6_400);
    expect(rows[1]?.atPrice).toMatchObject({ price: 6_400, left: 5_120, pay: 1_765 });
  });

  test("looks at the price that is asked about, and warns of what the sale would not take", () => {
    const { rows, warnings } = help({ price: 450 });
    expect(rows.map(({ atPrice }) => atPrice?.verdict)).toEqual(["below-cost", "below-cost"]);
    expect(warnings).toEqual(["The lowest price in this sale is 5.00 USD."]);
    expect(help({ price: 5_650 }).warnings).toEqual([
      "Prices here go in steps of 1.00 USD. Try 56.00 USD or 57.00 USD.",
    ]);
    expect(help({ price: 5_600 }).rows[0]?.atPrice).toMatchObject({ verdict: "below-wage" });
    expect(help({ price: 5_600 }).warnings).toEqual([]);
  });

  test("says that no hours are given instead of a pay", () => {
    const { rows, cost } = help({ setUp: 0, weaving: 0, finishing: 0 });
    expect(rows[0]?.wanted).toMatchObject({ price: 1_100, pay: null, verdict: "no-hours" });
    expect(costFigures(cost)).toMatchObject({ cost: 706, labour: 0 });
  });

  test("adds the percentage that was typed, and has no price where nothing is left", () => {
    const { rows, price } = help({ rate: 100_000 }, { rates: [] });
    expect(rows).toMatchObject([{ when: "typed", wanted: "nothing-left", atPrice: null }]);
    expect(price).toBeNull();
    expect(help({ rate: 40_000 }).rows.at(-1)).toMatchObject({ when: "typed", rate: 40_000 });
  });

  test("shares the entry fee, or says that it is left out", () => {
    const fee = { entryFee: 2_000 };
    expect(help({}, fee).notes).toEqual([
      "The entry fee of $20 is left out until you say how many pieces share it.",
    ]);
    const shared = help({ sharedBy: 3 }, fee);
    expect(shared.notes).toEqual([]);
    expect(shared.cost.entryFee).toEqual(fraction(2_000, 3));
    expect(shared.rows[0]?.wanted).toMatchObject({ price: 7_400 });
  });

  test("tells what an hour of work saves, when the sales in all are said", () => {
    expect(help().shifts).toEqual([]);
    expect(help({ sales: 30_000 }).shifts).toEqual([
      { why: "4 hours of work or more", minutes: 240, payPerHour: 750 },
    ]);
    expect(help({ sales: 30_000, rate: 1 }, { rates: [] }).shifts).toEqual([]);
  });
});

describe("the cost of a piece", () => {
  const made = { materials: fraction(1_000), notions: 200, minutes: fraction(120), wage: 1_500 };

  test("counts overhead as an amount and of materials and work", () => {
    const cost = pieceCost(partsOf({ ...made, overhead: 100, overheadRate: 10_000 }));
    // 10 % of 10.00 and 30.00, and 1.00.
    expect(costFigures(cost)).toEqual({
      ...{ materials: 1_000, notions: 200, overhead: 500, entryFee: 0 },
      ...{ unsold: 0, cost: 1_700, labour: 3_000 },
    });
  });

  test("of eight that sell carries the cost and the hours of two that do not", () => {
    const cost = pieceCost(partsOf({ ...made, sellOfTen: 8 }));
    expect(costFigures(cost)).toMatchObject({ unsold: 300, cost: 1_500, labour: 3_750 });
    expect(cost.minutes).toEqual(fraction(150));
  });

  test.each([0, 11, 2.5])("cannot be spread when %d of ten sell", (sellOfTen) => {
    expect(() => pieceCost(partsOf({ sellOfTen }))).toThrow(RangeError);
  });
});

describe("tax on top of a price, which a card fee is charged on as well", () => {
  const tax = flatTax(6_000, "State tax");
  const rule = (mode: "exempt" | "exempt-under", kind = "scarf") => ({
    ...tax,
    components: [
      { ...tax.components[0]!, rules: [{ kind, mode, threshold: 11_000 }] },
      { code: "town", name: "Town tax", rate: 2_000, rules: [] },
    ],
  });

  test.each([
    ["all of it", tax, 6_000],
    ["none when prices hold it", { ...tax, included: true }, 0],
    ["without what the kind is exempt of", rule("exempt"), 2_000],
    ["with what begins at a price", rule("exempt-under"), 8_000],
    ["with what another kind is exempt of", rule("exempt", "towel"), 8_000],
  ])("%s", (_what, rules, expected) => {
    expect(taxOnTop(rules, "scarf", "2026-11-27")).toBe(expected);
  });
});

test("what a page gets for its slider comes back as it was", () => {
  const { cost, ...rest } = help({ sharedBy: 7 }, { entryFee: 2_000 });
  expect(rest.rows).toHaveLength(2);
  const { minutes, labour } = cost;
  const given = {
    ...{ needs: { cost: cost.cost, minutes, labour }, card: scene.card, tax: 8_250 },
    ...{ prices: scene.prices, locale: "en-US" },
  };
  expect(unpackScene(packScene(given))).toEqual(given);
});
