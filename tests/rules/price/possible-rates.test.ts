import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { guildRateOf, type RatePolicy, type Seller } from "../../../src/rules/policy/guild-rate.ts";
import { nobodySpecial } from "../../../src/rules/policy/words/rates.ts";
import { possibleRates } from "../../../src/rules/price/possible-rates.ts";
import { policies, sellers } from "../policy/support.ts";

// As printed rules of weavers' guilds have them: 30 % without work, 20 % with some, 10 % for the
// committee, 15 % for visitors. The rest is common practice, no source.
const policy: RatePolicy = {
  ...{ ordinary: 30_000, visitor: 15_000, committee: 10_000 },
  classes: [{ code: "honorary", name: "Honorary members", rate: 5_000 }],
  kinds: [{ kind: "yarn", name: "Handspun yarn", rate: 12_500, visitorsToo: false }],
  hours: [
    { fromMinutes: 120, rate: 20_000 },
    { fromMinutes: 360, rate: 18_000 },
  ],
};
const told = (seller: Partial<Seller>, kind = "towel", by = policy) =>
  possibleRates(by, { ...nobodySpecial, ...seller }, kind).map(
    ({ why, rate, when, moreMinutes }) => `${when} ${rate / 1_000} ${why} +${moreMinutes}`,
  );
const elses = [
  "else 10 On the committee +0",
  "else 5 Honorary members +0",
  "else 15 Sold by a visitor +0",
];

describe("what a piece may end up under", () => {
  test("every step of hours that is still ahead, and how the guild might count its maker", () => {
    expect(told({})).toEqual([
      "now 30 Under 2 hours of work +0",
      "work 20 2 to 6 hours of work +120",
      "work 18 6 hours of work or more +360",
      ...elses,
    ]);
  });

  test("steps that are passed do not come again", () => {
    expect(told({ minutesWorked: 150 })).toEqual([
      "now 20 2 to 6 hours of work +0",
      "work 18 6 hours of work or more +210",
      ...elses,
    ]);
  });

  test("hours change nothing for the committee, a class or a visitor", () => {
    expect(told({ committee: true })).toEqual(["now 10 On the committee +0", ...elses.slice(1)]);
    expect(told({ classCode: "honorary" })[0]).toBe("now 5 Honorary members +0");
    expect(told({ visitor: true }).map((line) => line.split(" ")[0])).toEqual([
      "now",
      "else",
      "else",
    ]);
  });

  test("a kind with a percentage of its own goes before all, save where visitors are left out", () => {
    expect(told({}, "yarn")).toEqual([
      "now 12.5 The rate for Handspun yarn +0",
      "else 15 Sold by a visitor +0",
    ]);
  });

  test("one percentage for everyone is one line", () => {
    const plain = { ...policy, visitor: null, committee: null, classes: [], kinds: [], hours: [] };
    expect(told({}, "towel", plain)).toEqual(["now 30 The rate for everyone +0"]);
  });
});

test("whatever comes to hold later was among them, and each stands there once", () => {
  const more = fc.integer({ min: 0, max: 5_000 });
  fc.assert(
    fc.property(policies, sellers, more, ({ rates }, seller, minutes) => {
      const found = possibleRates(rates, seller, "towel");
      const worked = { ...seller, minutesWorked: seller.minutesWorked + minutes };
      const { rate } = guildRateOf(rates, worked, { kind: "towel", donated: false });
      expect(found.map((one) => one.rate)).toContain(rate);
      expect(found[0]?.when).toBe("now");
      const keys = found.map((one) => `${one.why} ${one.rate}`);
      expect(new Set(keys).size).toBe(keys.length);
    }),
  );
});
