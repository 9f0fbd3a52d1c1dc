import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type CashRounding, exactCash, roundCash } from "../../src/rules/cash-rounding.ts";
import { total } from "../../src/rules/money.ts";
import {
  applyTenders,
  cashPart,
  checkTenders,
  type TenderInput,
  tenderKinds,
} from "../../src/rules/tender.ts";

const cash = (amount: number): TenderInput => ({ kind: "cash", amount });
const card = (amount: number, reference?: string): TenderInput => ({
  kind: "card",
  amount,
  reference,
});

describe("what is refused, and where", () => {
  test.each<[string, TenderInput[], string, string]>([
    ["nothing given", [], "tenders", "does not cover"],
    ["too little cash", [cash(999)], "tenders.0.amount", "does not cover"],
    ["too little by card", [card(999)], "tenders", "does not cover"],
    [
      "more than the total by card",
      [card(400), card(601)],
      "tenders.1.amount",
      "more than the total",
    ],
    ["cash when nothing is left", [card(1000), cash(5)], "tenders.1.amount", "Nothing is left"],
    ["cash twice", [cash(500), cash(500)], "tenders.1.kind", "one amount"],
    ["an amount of zero", [cash(0)], "tenders.0.amount", "above zero"],
    ["a fraction", [cash(1000.5)], "tenders.0.amount", "above zero"],
    ["below zero", [cash(2000), card(-500)], "tenders.1.amount", "above zero"],
    ["a card number", [card(1000, "4111 1111 1111 1111")], "tenders.0.reference", "card number"],
  ])("%s", (_, tenders, field, message) => {
    expect(checkTenders(tenders, 1000, exactCash)).toEqual([
      { field, message: expect.stringContaining(message) },
    ]);
  });

  test("payments that were not checked are never applied", () => {
    expect(() => applyTenders([cash(999)], 1000, exactCash)).toThrow(RangeError);
    expect(() => applyTenders([card(1001)], 1000, exactCash)).toThrow(RangeError);
  });
});

describe("what is applied", () => {
  test("cash covers what the others leave and gives change", () => {
    const tenders = [cash(2000), card(2000, "T-0042")];
    expect(checkTenders(tenders, 3003, exactCash)).toEqual([]);
    expect(applyTenders(tenders, 3003, exactCash)).toEqual({
      tenders: [cash(1003), card(2000, "T-0042")],
      cashGiven: 2000,
      change: 997,
      rounding: 0,
    });
  });

  test("without cash there is no change", () => {
    expect(applyTenders([card(1000)], 1000, exactCash)).toMatchObject({ cashGiven: 0, change: 0 });
  });

  test("accepted tenders pay what is due and the rounding, with no cash the exact amount", () => {
    const tender = fc.record({
      kind: fc.constantFrom(...tenderKinds),
      amount: fc.integer({ min: 1, max: 2000 }),
    });
    const rule = fc.record({
      step: fc.constantFrom(1 as const, 5 as const, 10 as const, 100 as const),
      fives: fc.constantFrom("up" as const, "down" as const),
    });
    fc.assert(
      fc.property(
        fc.array(tender, { maxLength: 4 }),
        fc.integer({ min: 1, max: 4000 }),
        rule,
        (tenders, due, cashRule) => {
          if (checkTenders(tenders, due, cashRule).length > 0) return;
          const payment = applyTenders(tenders, due, cashRule);
          const paid = (list: TenderInput[]) => total(list.map(({ amount }) => amount));
          const [cashPaid, others] = [true, false].map((wanted) =>
            paid(payment.tenders.filter(({ kind }) => (kind === "cash") === wanted)),
          ) as [number, number];
          expect(paid(payment.tenders)).toBe(due + payment.rounding);
          expect(cashPaid).toBe(payment.cashGiven > 0 ? roundCash(due - others, cashRule).due : 0);
          if (payment.cashGiven === 0) expect(payment.rounding).toBe(0);
          expect(payment.change).toBe(payment.cashGiven - cashPaid);
          expect(payment.change).toBeGreaterThanOrEqual(0);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe("rounded cash", () => {
  const fivers: CashRounding = { step: 5, fives: "up" };

  // Canada's worked example (Budget 2012 annex): 4.90 in cash, 4.92 by card.
  test("pays 4.92 with 4.90, a card pays 4.92", () => {
    expect(checkTenders([cash(490)], 492, fivers)).toEqual([]);
    expect(applyTenders([cash(500)], 492, fivers)).toEqual({
      tenders: [cash(490)],
      cashGiven: 500,
      change: 10,
      rounding: -2,
    });
    expect(checkTenders([card(490)], 492, fivers)).toMatchObject([{ field: "tenders" }]);
    expect(applyTenders([card(492)], 492, fivers)).toMatchObject({ change: 0, rounding: 0 });
  });

  // Alabama, Act 2026-548: of a split payment only the cash part; the figures are computed.
  test("is the cash part alone: 50.03 with 20.00 by card leaves 30.05", () => {
    const tenders = [card(2000), cash(3005)];
    expect(cashPart([card(2000)], 5003, fivers)).toEqual({ left: 3003, due: 3005, rounding: 2 });
    expect(checkTenders(tenders, 5003, fivers)).toEqual([]);
    expect(applyTenders(tenders, 5003, fivers)).toMatchObject({ tenders, change: 0, rounding: 2 });
    expect(checkTenders([card(2000), cash(3003)], 5003, fivers)).toMatchObject([
      { field: "tenders.1.amount", message: expect.stringContaining("does not cover") },
    ]);
  });

  // Texas Comptroller: 324.74 may be taken as 324.75.
  test("pays 324.74 with 324.75", () => {
    expect(applyTenders([cash(33_000)], 32_474, fivers)).toMatchObject({
      tenders: [cash(32_475)],
      change: 525,
      rounding: 1,
    });
  });

  test("may come to nothing when nothing else is paid, and is still cash", () => {
    expect(checkTenders([cash(0)], 2, fivers)).toEqual([]);
    expect(applyTenders([cash(0)], 2, fivers)).toEqual({
      tenders: [cash(0)],
      cashGiven: 0,
      change: 0,
      rounding: -2,
    });
    expect(applyTenders([cash(100)], 2, fivers)).toMatchObject({ change: 100, rounding: -2 });
    expect(checkTenders([], 2, fivers)).toMatchObject([{ field: "tenders" }]);
    expect(checkTenders([cash(0)], 3, fivers)).toMatchObject([{ field: "tenders.0.amount" }]);
    expect(checkTenders([cash(0)], 0, fivers)).toMatchObject([{ field: "tenders.0.amount" }]);
  });

  test("does not shave a coin off a card payment", () => {
    expect(checkTenders([card(5000), cash(5)], 5002, fivers)).toEqual([
      { field: "tenders.1.amount", message: expect.stringContaining("smallest coin") },
    ]);
  });
});
