import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { total } from "../../../src/rules/money.ts";
import { accountsOf } from "../../../src/rules/policy/accounts.ts";
import type { CardFeeWay } from "../../../src/rules/policy/card-fee.ts";
import { firstPolicy, type Policy } from "../../../src/rules/policy/policy.ts";
import type { SaleBook } from "../../../src/rules/policy/sale-book.ts";
import { bookLine, bookMember, books, paidByCard, policies, returnsOf } from "./support.ts";

const first = firstPolicy(20_000);
const bookOf = (change: Partial<SaleBook>): SaleBook => ({
  ...{ members: [bookMember(101)], lines: [], cardFee: null, ...change },
});

// Both worked out with exact decimals by an independent script; the second was balanced by two
// plain-text bookkeeping programs as well.
describe("worked settlements", () => {
  test("252.75 less 20 %, an entry fee of 5.00 and 2.9 % of what cards paid is 194.00", () => {
    const policy: Policy = {
      ...first,
      fees: { ...first.fees, entry: 500 },
      cardFee: { way: "price", rate: 2_900, fixed: 0 },
    };
    const lines = [
      bookLine("1", 101, 6800, paidByCard(6800, 476)),
      bookLine("2", 101, 4250, paidByCard(4250)),
      ...[bookLine("3", 101, 2725), bookLine("4", 101, 11500)],
    ];
    const { members, leftForGuild } = accountsOf(bookOf({ lines }), policy);
    expect(members[0]).toMatchObject({
      ...{ gross: 25275, guildShare: 5055, feeTotal: 500, cardFee: 320, balance: 19400 },
      payout: { paid: 19400, carried: 0, method: "cheque" },
    });
    expect(leftForGuild).toBe(5555);
  });

  test("68.00 and 21.85 for two members leave 54.40 and 17.48, and 49.40 after a fee", () => {
    const lines = [bookLine("1", 45, 6800), bookLine("2", 101, 2185)];
    const members = [bookMember(101), bookMember(45)];
    const plain = accountsOf({ lines, members, cardFee: null }, first);
    expect(plain.members.map(({ memberNumber, balance }) => [memberNumber, balance])).toEqual([
      [45, 5440],
      [101, 1748],
    ]);
    expect(plain.leftForGuild).toBe(1797);
    const fees = { ...first.fees, entry: 500 };
    const after = accountsOf({ lines, members, cardFee: null }, { ...first, fees });
    expect(after.members[0]!.balance).toBe(4940);
  });
});

// A towel has to bring 44.5561 (yarn 7.0561 and 2.5 hours at 15.00), the guild takes 25 %, the
// card 3 %. The price that does it, rounded up: 44.5561 / (1 - .25) for the guild's way,
// / (1 - .25 - .03) on the price, (44.5561 + .30) / (1 - .25 - .03 × 1.08) as charged with tax of
// 8 % and .30 a sale, / (.97 × .75) before the share. At one less the towel must not bring it.
test.each<[CardFeeWay, number, number]>([
  ["guild", 6000, 4500],
  ["price", 6200, 4464],
  ["charged", 6300, 4491],
  ["before-share", 6200, 4510],
])("the card fee by %s: a towel at %i leaves %i", (way, price, expected) => {
  const fixed = way === "charged" ? 30 : 0;
  const policy = { ...firstPolicy(25_000), cardFee: { way, rate: 3_000, fixed } };
  const net = (of: number) => {
    const lines = [bookLine("1", 101, of, paidByCard(of, (of * 8) / 100))];
    return accountsOf(bookOf({ lines }), policy).members[0]!.balance;
  };
  expect(net(price)).toBe(expected);
  expect(net(price)).toBeGreaterThanOrEqual(4456);
  expect(net(price - 100)).toBeLessThan(4456);
});

test("gifts stand apart, losses and what was carried count, and each line has its reason", () => {
  const policy: Policy = {
    ...first,
    loss: { rule: "price-less-share" },
    payout: { ...first.payout, minimum: 10_000 },
  };
  const lost = { itemId: "i", kind: "towel", quantity: 2, price: 1000 };
  const missing = [
    { ...lost, donated: false },
    { ...lost, donated: true },
  ];
  const lines = [bookLine("1", 101, 5000), bookLine("2", 101, 700, { donated: true })];
  const members = [bookMember(101, { missing, carried: -300 })];
  const [ann] = accountsOf(bookOf({ members, lines }), policy).members;
  expect(ann).toMatchObject({
    ...{ gross: 5000, guildShare: 1000, donated: 700, lossTotal: 1600, carried: -300 },
    ...{ balance: 5300, payout: { why: "below-minimum", paid: 0, carried: 5300 } },
  });
  expect(ann!.lines.map(({ answer, net }) => [answer.reason.why, net])).toEqual([
    ["ordinary", 4000],
    ["donated", 0],
  ]);
});

test("books that cannot be are refused", () => {
  const sale = bookLine("1", 101, 100);
  const [back] = returnsOf([sale]);
  const settled = (change: Partial<SaleBook>) => () => accountsOf(bookOf(change), first);
  expect(settled({ members: [bookMember(101), bookMember(101)] })).toThrow("twice");
  expect(settled({ lines: [bookLine("1", 102, 100)] })).toThrow("Line 1");
  expect(settled({ lines: [{ ...sale, quantity: -1 }] })).toThrow("Line 1");
  expect(settled({ lines: [{ ...sale, ...paidByCard(101) }] })).toThrow("Line 1");
  expect(settled({ lines: [back!] })).toThrow("not here");
  expect(settled({ lines: [sale, { ...back!, ...paidByCard(0, 1) }] })).toThrow("back 0");
});

test("every coin is a member's, the guild's or the processor's, and is explained line by line", () => {
  fc.assert(
    fc.property(books, policies, (book, policy) => {
      const { members, takings, cardFee, cardFeeByGuild, leftForGuild } = accountsOf(book, policy);
      if (book.cardFee !== null) expect(cardFee).toBe(book.cardFee);
      expect(takings).toBe(total(book.lines.map(({ amount }) => amount)));
      const forMembers = total(members.map(({ balance, carried }) => balance - carried));
      expect(forMembers + leftForGuild + cardFee).toBe(takings);
      expect(cardFeeByGuild + total(members.map((one) => one.cardFee))).toBe(cardFee);
      for (const one of members) {
        const { gross, guildShare, feeTotal, lossTotal, carried, balance, payout } = one;
        expect(gross - guildShare - one.cardFee - feeTotal + lossTotal + carried).toBe(balance);
        expect(payout.paid + payout.carried).toBe(balance);
        for (const line of one.lines)
          expect(line.guildShare + line.cardFee + line.net).toBe(line.amount);
      }
      const shown = members.flatMap(({ lines }) => lines.map(({ lineId }) => lineId));
      expect(shown.toSorted()).toEqual(book.lines.map(({ lineId }) => lineId).toSorted());
    }),
  );
});

test("what comes back changes no earlier line and leaves the guild no share of it", () => {
  fc.assert(
    fc.property(books, policies, (book, policy) => {
      const before = accountsOf(book, policy);
      const lines = [...book.lines, ...returnsOf(book.lines)];
      const after = accountsOf({ ...book, lines }, policy);
      for (const [index, one] of after.members.entries()) {
        const earlier = before.members[index]!;
        expect(one.lines.slice(0, earlier.lines.length)).toEqual(earlier.lines);
        expect([one.gross, one.guildShare, one.donated]).toEqual([0, 0, 0]);
      }
    }),
  );
});
