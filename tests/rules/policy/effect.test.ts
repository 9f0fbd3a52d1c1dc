import fc from "fast-check";
import { expect, test } from "vitest";
import { total } from "../../../src/rules/money.ts";
import { policyEffect } from "../../../src/rules/policy/effect.ts";
import { firstPolicy, type Policy } from "../../../src/rules/policy/policy.ts";
import { bookLine, bookMember, books, paidByCard, policies } from "./support.ts";

const worker = (memberNumber: number, minutesWorked: number) =>
  bookMember(memberNumber, {
    seller: { visitor: false, committee: false, classCode: null, minutesWorked },
  });

// What a shift is worth, worked out with exact fractions: 300 × (30 % - 20 %) for four hours is
// 7.50 an hour, 200 × (50 % - 20 %) for twelve hours is 5.00 an hour.
test.each([
  [30_000, 240, 30_000, 750],
  [50_000, 720, 20_000, 500],
])("steps by hours, %i below %i minutes, on %i: %i an hour", (rate, minutes, sold, anHour) => {
  const before = firstPolicy(rate);
  const hours = [{ fromMinutes: minutes, rate: 20_000 }];
  const after = { ...before, rates: { ...before.rates, hours } };
  const members = [worker(101, minutes), worker(102, minutes - 1)];
  const lines = [bookLine("1", 101, sold), bookLine("2", 102, sold)];
  const effect = policyEffect({ members, lines, cardFee: null }, before, after);
  expect(effect.members.map(({ change }) => change)).toEqual([(anHour * minutes) / 60, 0]);
  expect(effect.guild.change).toBe((0 - anHour * minutes) / 60);
});

test("every member stands with the figures of before and after", () => {
  const before = firstPolicy(20_000);
  const after: Policy = {
    ...before,
    rates: { ...before.rates, ordinary: 15_000 },
    fees: { ...before.fees, entry: 500 },
    cardFee: { way: "price", rate: 3_000, fixed: 0 },
    loss: { rule: "price-less-share" },
    payout: { ...before.payout, minimum: 5000 },
  };
  const missing = [{ itemId: "i", kind: "towel", donated: false, quantity: 1, price: 2000 }];
  const members = [bookMember(102, { missing }), bookMember(101)];
  const lines = [
    bookLine("1", 101, 10_000, paidByCard(10_000)),
    bookLine("2", 102, 2000, paidByCard(2000)),
  ];
  // The processor's statement says 3.50: 2.92 and 0.58 by largest remainder.
  const effect = policyEffect({ members, lines, cardFee: 350 }, before, after);
  expect(effect.members).toEqual([
    {
      ...{ memberId: "m101", memberNumber: 101, change: -292 },
      before: { guildShare: 2000, cardFee: 0, fees: 0, losses: 0, balance: 8000, paid: 8000 },
      after: { guildShare: 1500, cardFee: 292, fees: 500, losses: 0, balance: 7708, paid: 7708 },
    },
    {
      ...{ memberId: "m102", memberNumber: 102, change: 1242 },
      before: { guildShare: 400, cardFee: 0, fees: 0, losses: 0, balance: 1600, paid: 1600 },
      after: { guildShare: 300, cardFee: 58, fees: 500, losses: 1700, balance: 2842, paid: 0 },
    },
  ]);
  expect(effect.guild).toEqual({ before: 2050, after: 1100, change: -950 });
});

test("what members gain the guild loses, and the way back undoes it", () => {
  fc.assert(
    fc.property(books, policies, policies, fc.nat(2_000), (drawn, before, after, cardFee) => {
      const book = { ...drawn, cardFee };
      const there = policyEffect(book, before, after);
      expect(total(there.members.map(({ change }) => change)) + there.guild.change).toBe(0);
      const back = policyEffect(book, after, before);
      for (const [index, member] of there.members.entries()) {
        expect(member.change).toBe(member.after.balance - member.before.balance);
        expect(back.members[index]).toMatchObject({ before: member.after, after: member.before });
      }
      const same = policyEffect(book, before, before);
      expect(same.members.every(({ change }) => change === 0)).toBe(true);
    }),
  );
});
