import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { guildRateOf, type RatePolicy, type Seller } from "../../../src/rules/policy/guild-rate.ts";
import { rateAnswerWords } from "../../../src/rules/policy/rate-words.ts";
import { policies, sellers } from "./support.ts";

// Printed rules of weavers' guilds: 30 % for helpers who stayed away, 20 % for most, 10 % for
// the committee, 15 % for visitors. The rest is common practice, no source.
const policy: RatePolicy = {
  ...{ ordinary: 30_000, visitor: 15_000, committee: 10_000 },
  classes: [{ code: "honorary", name: "Honorary members", rate: 5_000 }],
  kinds: [
    { kind: "yarn", name: "Handspun yarn", rate: 12_500, visitorsToo: false },
    { kind: "equipment", name: "Equipment", rate: 25_000, visitorsToo: true },
  ],
  hours: [
    { fromMinutes: 120, rate: 20_000 },
    { fromMinutes: 360, rate: 18_000 },
  ],
};
const nobody: Seller = { visitor: false, committee: false, classCode: null, minutesWorked: 0 };
const towel = { kind: "towel", donated: false };

const words = (seller: Partial<Seller>, goods = towel, by = policy) =>
  rateAnswerWords(guildRateOf(by, { ...nobody, ...seller }, goods));

describe("hours worked", () => {
  test.each([
    [0, "30 %: under 2 hours of work"],
    [119, "30 %: under 2 hours of work"],
    [120, "20 %: 2 to 6 hours of work"],
    [359, "20 %: 2 to 6 hours of work"],
    [360, "18 %: 6 hours of work or more"],
  ])("%i minutes: %s", (minutesWorked, expected) => {
    expect(words({ minutesWorked })).toEqual([expected]);
  });

  // A printed rule: half of the price from those who give under 12 hours.
  test("can cost half of the price below twelve hours", () => {
    const strict = { ...policy, ordinary: 50_000, hours: [{ fromMinutes: 720, rate: 20_000 }] };
    expect(words({ minutesWorked: 719 }, towel, strict)).toEqual(["50 %: under 12 hours of work"]);
    expect(words({ minutesWorked: 720 }, towel, strict)).toEqual([
      "20 %: 12 hours of work or more",
    ]);
  });

  test("may have bounds between full hours", () => {
    const odd = [
      { fromMinutes: 61, rate: 20_000 },
      { fromMinutes: 150, rate: 10_000 },
    ];
    expect(words({ minutesWorked: 90 }, towel, { ...policy, hours: odd })).toEqual([
      "20 %: 1 hour 1 minute to 2 hours 30 minutes of work",
    ]);
  });

  test("do not matter where the guild has no steps", () => {
    expect(words({}, towel, { ...policy, hours: [] })).toEqual(["30 %: the rate for everyone"]);
  });

  test("must be whole minutes", () => {
    expect(() => words({ minutesWorked: 0.5 })).toThrow("whole");
    expect(() => words({ minutesWorked: -1 })).toThrow("whole");
  });
});

test("goods go before people and people before hours, and the others are told", () => {
  const everything = { committee: true, classCode: "honorary", minutesWorked: 400 };
  expect(words(everything, { kind: "yarn", donated: true })).toEqual([
    "100 %: given to the guild",
    "Not used: 12.5 %: the rate for Handspun yarn",
    "Not used: 10 %: on the committee",
    "Not used: 5 %: Honorary members",
    "Not used: 18 %: 6 hours of work or more",
  ]);
});

test("a visitor has the visitors' rate, unless the kind's holds for visitors too", () => {
  const visitor = { visitor: true, committee: true };
  expect(words(visitor)[0]).toBe("15 %: sold by a visitor");
  expect(words(visitor, { kind: "yarn", donated: false })[0]).toBe("15 %: sold by a visitor");
  expect(words(visitor, { kind: "equipment", donated: false })[0]).toBe(
    "25 %: the rate for Equipment",
  );
  const open = { ...policy, visitor: null, committee: null };
  expect(words(visitor, { kind: "yarn", donated: false }, open)[0]).toContain("Handspun yarn");
  expect(words(visitor, towel, open)[0]).toBe("30 %: under 2 hours of work");
});

test("a class that is not in the policy changes nothing", () => {
  expect(words({ classCode: "gone" })).toEqual(["30 %: under 2 hours of work"]);
});

test("every piece has one rate of the policy, and a rate that falls with hours never rises", () => {
  const goods = fc.record({ kind: fc.constantFrom("towel", "yarn"), donated: fc.boolean() });
  fc.assert(
    fc.property(policies, sellers, goods, ({ rates }, seller, piece) => {
      const answer = guildRateOf(rates, seller, piece);
      expect(answer.rate).toBe(answer.reason.rate);
      if (piece.donated) expect(answer.rate).toBe(100_000);
      // The hours come last and always hold, so they close the list.
      const last = answer.passedOver.at(-1) ?? answer.reason;
      const reached = rates.hours.filter(({ fromMinutes }) => fromMinutes <= seller.minutesWorked);
      expect(last.rate).toBe(reached.length === 0 ? rates.ordinary : reached.at(-1)!.rate);

      const falling = [rates.ordinary, ...rates.hours.map(({ rate }) => rate)].toSorted(
        (one, other) => other - one,
      );
      const fair = {
        ...{ ...rates, ordinary: falling[0]! },
        hours: rates.hours.map((tier, index) => ({ ...tier, rate: falling[index + 1]! })),
      };
      const more = { ...seller, minutesWorked: seller.minutesWorked + 100 };
      expect(guildRateOf(fair, more, piece).rate).toBeLessThanOrEqual(
        guildRateOf(fair, seller, piece).rate,
      );
    }),
  );
});
