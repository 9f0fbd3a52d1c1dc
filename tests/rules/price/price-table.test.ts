import { describe, expect, test } from "vitest";
import { type Fraction, fraction, nearestWhole, plus, times } from "../../../src/rules/fraction.ts";
import type { CardFeePolicy } from "../../../src/rules/policy/card-fee.ts";
import { type Cuts, cardFeeAt, guildPartAt, keptOf } from "../../../src/rules/price/cuts.ts";
import { pieceCost } from "../../../src/rules/price/piece-cost.ts";
import { leftAt, payAt, priceFor } from "../../../src/rules/price/price-for.ts";
import { shiftPay } from "../../../src/rules/price/shift-pay.ts";
import { cutsOf, partsOf, wholeUnits } from "./support.ts";

// Worked examples of a working weaver, common practice and no published source; those marked
// "exact" take the yarn as it is worked out, the others its cost to four decimals.

/** To four decimals of a unit, from smallest coins. */
const four = (coins: Fraction) => Number(nearestWhole(times(coins, fraction(100)))) / 10_000;
/** An amount of whole units as smallest coins. */
const units = (top: number, bottom = 1) => fraction(top * 100, bottom);

/** 17336/10080 lb of cotton at 22.00, for six towels. */
const towel = { materials: units(381_392, 60_480), notions: 75, hours: [5, 2], wage: 15 };
const threePercent = { rate: 3_000, fixed: 0, way: "price" } as const;

test.each([
  ["a towel, exact, 20 %", towel, 20, null, 44.5561, 55.6951, 56, 11.2, 44.8, 15.0976],
  ["the same at 25 %", towel, 25, null, 44.5561, 59.4081, 60, 15, 45, 15.1776],
  ["the same at 30 %", towel, 30, null, 44.5561, 63.6515, 64, 19.2, 44.8, 15.0976],
  ["25 % and a card fee", towel, 25, threePercent, 44.5561, 61.8835, 62, 15.5, 44.64, 15.0336],
  [
    ...[
      "a scarf of silk",
      { materials: units(217_297, 10_000), notions: 150, hours: [39, 4], wage: 18 },
    ],
    ...[25, null, 198.7297, 264.9729, 265, 66.25, 198.75, 18.0021],
  ],
  [
    ...[
      "its sister",
      { materials: units(196_681, 10_000), notions: 150, hours: [37, 4], wage: 18 },
    ],
    ...[25, null, 187.6681, 250.2241, 251, 62.75, 188.25, 18.0629],
  ],
  [
    ...["a rag rug, exact", { materials: units(140, 9), notions: 0, hours: [11, 1], wage: 14 }],
    ...[30, null, 169.5556, 242.2222, 243, 72.9, 170.1, 14.0495],
  ],
  [
    ...[
      "four mats, exact",
      { materials: units(347_222_693, 19_891_575), notions: 0, hours: [116, 15], wage: 16 },
    ],
    ...[25, null, 141.1891, 188.2521, 189, 47.25, 141.75, 16.0725],
  ],
  [
    ...[
      "their runner, exact",
      { materials: units(6_340_400_431, 556_964_100), notions: 0, hours: [64, 15], wage: 16 },
    ],
    ...[25, null, 79.6505, 106.2007, 107, 26.75, 80.25, 16.1405],
  ],
  [
    ...[
      "a blanket, exact",
      { materials: units(64067, 690), notions: 300, hours: [22, 1], wage: 15 },
    ],
    ...[25, null, 425.8507, 567.801, 568, 142, 426, 15.0068],
  ],
] as Row[])("%s", (_name, piece, percent, card, needs, raw, tag, guild, net, pay) => {
  const { materials, notions, hours, wage } = piece;
  const minutes = fraction(hours[0] * 60, hours[1]);
  const cost = pieceCost(partsOf({ materials, notions, minutes, wage: wage * 100 }));
  const cuts = cutsOf(percent, card ?? {});
  expect(four(plus(cost.cost, cost.labour))).toBe(needs);
  const priced = priceFor(cost, cuts, wholeUnits);
  if (typeof priced === "string") throw new Error(priced);
  expect([four(priced.raw), priced.tag]).toEqual([raw, tag * 100]);
  expect(four(guildPartAt(priced.tag, cuts))).toBe(guild);
  expect(four(leftAt(priced.tag, cuts))).toBe(net);
  expect(four(payAt(priced.tag, cost, cuts)!)).toBe(pay);
});

interface Piece {
  materials: Fraction;
  notions: number;
  hours: [number, number];
  wage: number;
}
type Row = [
  ...[string, Piece, number, Partial<CardFeePolicy> | null],
  ...[number, number, number, number, number, number],
];

// In binary floating point 42 / (1 − 0.3) is 60.00000000000001, which rounds up to 61.
test.each([
  [42, 30, 60],
  [21, 30, 30],
  [67, 33, 100],
])("%i at %i %% is %i and not a unit more", (needs, percent, tag) => {
  const cost = pieceCost(partsOf({ materials: units(needs) }));
  expect(priceFor(cost, cutsOf(percent), wholeUnits)).toMatchObject({ tag: tag * 100 });
  expect(Math.ceil(needs / (1 - percent / 100))).toBe(tag + 1);
});

describe("the card fee", () => {
  const ways = {
    guild: { way: "guild", rate: 3_000, fixed: 0 },
    price: { way: "price", rate: 3_000, fixed: 0 },
    charged: { way: "charged", rate: 3_000, fixed: 30 },
    "before-share": { way: "before-share", rate: 3_000, fixed: 0 },
  } as const;
  const tax = 8_000;

  // By hand for 100.00 at 20 % with tax of 8 %: 3 % of 100.00, or of 108.00 and 0.30 more.
  test.each([
    ["guild", 0, 20, 80],
    ["price", 3, 20, 77],
    ["charged", 3.54, 20, 76.46],
    ["before-share", 3, 19.4, 77.6],
  ] as const)("%s: what each has of 100.00", (way, fee, guild, left) => {
    const cuts: Cuts = { rate: 20_000, card: ways[way], tax };
    expect(four(cardFeeAt(10_000, cuts))).toBe(fee);
    expect(four(guildPartAt(10_000, cuts))).toBe(guild);
    expect(four(leftAt(10_000, cuts))).toBe(left);
  });

  // (C + f + wH) / (1 − g − k(1 + x)) = 100.00 for 76.46, and so for the others.
  test.each([
    ["guild", 8_000],
    ["price", 7_700],
    ["charged", 7_646],
    ["before-share", 7_760],
  ] as const)("%s: the price is found from what has to be left", (way, left) => {
    const cuts: Cuts = { rate: 20_000, card: ways[way], tax };
    const cost = pieceCost(partsOf({ materials: fraction(left) }));
    expect(priceFor(cost, cuts, wholeUnits)).toEqual({ raw: fraction(10_000), tag: 10_000 });
  });

  test.each([
    ["guild", 100_000, 3_000, 0],
    ["price", 97_000, 3_000, 0],
    ["charged", 96_500, 3_000, 20_000],
    ["before-share", 97_000, 3_000, 0],
  ] as const)("%s: where nothing is left there is no price", (way, rate, fee, added) => {
    const card = { way, rate: fee, fixed: 0 };
    expect(keptOf({ rate, card, tax: added })).toBeNull();
    const cost = pieceCost(partsOf({ materials: units(1) }));
    expect(priceFor(cost, { rate, card, tax: added }, wholeUnits)).toBe("nothing-left");
    expect(keptOf({ rate: rate - 1_000, card, tax: added })).not.toBeNull();
  });

  test("a fee that the guild bears never counts against the percentage", () => {
    const card = { way: "guild", rate: 50_000, fixed: 0 } as const;
    expect(keptOf({ rate: 60_000, card, tax: 0 })).toEqual({
      ...{ part: fraction(2, 5), fixed: fraction(0) },
    });
  });
});

test("a price above all that can be entered is none", () => {
  const cost = pieceCost(partsOf({ materials: units(9_999_999) }));
  expect(priceFor(cost, cutsOf(0), wholeUnits)).toMatchObject({ tag: 999_999_900 });
  expect(priceFor(cost, cutsOf(0.001), wholeUnits)).toBe("too-high");
});

// Printed rules with 30 and 20 % and 4 hours, and with 50 and 20 % and 12 hours.
test.each([
  [300, 30, 20, 4, 7.5],
  [200, 50, 20, 12, 5],
])(
  "sales of %i at %i or %i %%, %i hours: an hour brings %d",
  (sales, without, lower, hours, pay) => {
    const rates = { without: without * 1_000, lower: lower * 1_000, minutes: hours * 60 };
    expect(four(shiftPay(sales * 100, rates)!)).toBe(pay);
  },
);

test("a percentage that takes no work has no pay for it", () => {
  expect(shiftPay(30_000, { without: 30_000, lower: 20_000, minutes: 0 })).toBeNull();
});
