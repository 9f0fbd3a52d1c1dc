import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { accounts, drawer, member, merge, negate } from "../../src/rules/ledger.ts";
import {
  adjustmentPostings,
  cashMovePostings,
  cashUpPostings,
  identifiedPostings,
  openingPostings,
  payoutPostings,
  receiptPostings,
  settlementPostings,
} from "../../src/rules/ledger-entries.ts";
import { total } from "../../src/rules/money.ts";

const asRecord = (postings: { account: string; amount: number }[]) =>
  Object.fromEntries(postings.map(({ account, amount }) => [account, amount]));

const item = { kind: "item" as const, donated: false, suspended: false };

const receipt = {
  lines: [
    { ...item, memberId: "ann", amount: 6800 },
    { ...item, memberId: "ben", amount: 2185 },
    { ...item, memberId: "ben", donated: true, amount: 1000 },
    { ...item, kind: "untagged" as const, memberId: "ann", suspended: true, amount: 700 },
    { ...item, kind: "goods" as const, memberId: null, amount: 300 },
  ],
  taxes: [
    { code: "state", tax: 400 },
    { code: "county", tax: 299 },
  ],
  rounding: 1,
  tenders: [
    { kind: "cash" as const, amount: 6685 },
    { kind: "cheque" as const, amount: 2000 },
    { kind: "card" as const, amount: 2500 },
    { kind: "other" as const, amount: 500 },
  ],
};

describe("a receipt", () => {
  test("debits what came in and credits members, donations and tax", () => {
    expect(asRecord(receiptPostings(receipt, "t1"))).toEqual({
      "drawer/t1": 6685,
      cheques: 2000,
      "card-clearing": 2500,
      "other-tender": 500,
      "member/ann": -6800,
      "member/ben": -2185,
      donations: -1000,
      suspense: -700,
      "guild-goods": -300,
      "tax/state": -400,
      "tax/county": -299,
      "cash-rounding": -1,
    });
  });

  test("whose figures do not add up is never posted", () => {
    expect(() => receiptPostings({ ...receipt, rounding: 2 }, "t1")).toThrow("sum to zero");
  });

  test("taken back in full leaves nothing", () => {
    const below = <T extends { amount: number }>(one: T): T => ({ ...one, amount: -one.amount });
    const reversal = {
      lines: receipt.lines.map(below),
      taxes: receipt.taxes.map(({ code, tax }) => ({ code, tax: -tax })),
      tenders: receipt.tenders.map(below),
      rounding: -receipt.rounding,
    };
    const postings = [...receiptPostings(receipt, "t1"), ...receiptPostings(reversal, "t1")];
    expect(merge(postings)).toEqual([]);
  });

  test("leaves suspense for its owner once somebody knows whose it is", () => {
    expect(asRecord(identifiedPostings(700, "ann"))).toEqual({ suspense: 700, "member/ann": -700 });
    expect(asRecord(identifiedPostings(-50, null))).toEqual({ suspense: -50, "guild-goods": 50 });
  });
});

describe("cash without a sale", () => {
  test.each([
    ["to-safe", { "drawer/t1": -5_000, safe: 5_000 }],
    ["paid-in", { "drawer/t1": 5_000, "paid-in": -5_000 }],
    ["paid-out", { "drawer/t1": -5_000, "paid-out": 5_000 }],
  ] as const)("%s moves between the drawer and its own account", (kind, expected) => {
    expect(asRecord(cashMovePostings(kind, 5_000, "t1"))).toEqual(expected);
  });
});

test("a till's day ends with an empty drawer, the difference in over/short", () => {
  // Float 100.00, sales 96.15, refund 23.40, so 172.75 expected; 172.50 counted: worked by hand.
  const ann = { ...item, memberId: "ann" };
  const cash = (amount: number) => ({
    ...{ lines: [{ ...ann, amount }], taxes: [], rounding: 0 },
    tenders: [{ kind: "cash" as const, amount }],
  });
  const ledger = merge([
    ...openingPostings(10_000, "t1"),
    ...receiptPostings(cash(9615), "t1"),
    ...receiptPostings(cash(-2340), "t1"),
    ...cashUpPostings({ expected: 17_275, counted: 17_250 }, "t1"),
  ]);
  expect(asRecord(ledger)).toEqual({
    [accounts.cashBox]: 7250,
    [accounts.overShort]: 25,
    [member("ann")]: -7275,
  });
  expect(ledger.some(({ account }) => account === drawer("t1"))).toBe(false);
});

test("too much cash is a credit in over/short, an exact count posts none", () => {
  expect(asRecord(cashUpPostings({ expected: 100, counted: 130 }, "t"))).toMatchObject({
    "over-short": -30,
  });
  expect(cashUpPostings({ expected: 100, counted: 100 }, "t")).toHaveLength(2);
  expect(cashUpPostings({ expected: 0, counted: 0 }, "t")).toEqual([]);
});

describe("settlement and payout", () => {
  const settled = { cardFee: 0, fees: 0, losses: 0 };

  test("settle the member's account to zero", () => {
    const postings = merge([
      { account: member("ann"), amount: -6800 },
      ...settlementPostings([{ ...settled, memberId: "ann", guildShare: 1360 }]),
      ...payoutPostings("ann", 5440),
    ]);
    expect(asRecord(postings)).toEqual({ "guild-share": -1360, bank: -5440 });
  });

  test("a payout that was voided owes the member again", () => {
    const payout = payoutPostings("ann", 5440);
    expect(merge([...payout, ...negate(payout)])).toEqual([]);
  });

  test("a payout in cash leaves the cash box, not the bank", () => {
    expect(asRecord(payoutPostings("ann", 5440, accounts.cashBox))).toEqual({
      "member/ann": 5440,
      "cash-box": -5440,
    });
  });

  test("nothing and less than nothing are never paid out", () => {
    expect(() => payoutPostings("ann", 0)).toThrow(RangeError);
    expect(() => payoutPostings("ann", -5)).toThrow(RangeError);
  });

  test("every settlement balances, supplementary ones with negative shares too", () => {
    const shares = fc.array(
      fc.record({
        memberId: fc.constantFrom("a", "b", "c"),
        ...{
          guildShare: fc.integer(),
          cardFee: fc.nat(),
          fees: fc.integer(),
          losses: fc.integer(),
        },
      }),
    );
    fc.assert(
      fc.property(shares, (members) => {
        const postings = settlementPostings(members);
        expect(total(postings.map(({ amount }) => amount))).toBe(0);
        const guild = postings.find(({ account }) => account === accounts.guildShare);
        expect(guild?.amount ?? 0).toBe(0 - total(members.map(({ guildShare }) => guildShare)));
      }),
    );
  });
});

test("an adjustment moves its figure between the guild and the member, never nothing", () => {
  const whole = fc.integer({ min: -100_000_000, max: 100_000_000 }).filter((one) => one !== 0);
  fc.assert(
    fc.property(whole, (amount) => {
      const postings = adjustmentPostings("ann", amount);
      expect(asRecord(postings)).toEqual({ adjustments: amount, "member/ann": 0 - amount });
      expect(total(postings.map((one) => one.amount))).toBe(0);
    }),
  );
  expect(() => adjustmentPostings("ann", 0)).toThrow(RangeError);
});
