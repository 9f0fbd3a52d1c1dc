import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { total } from "../../src/rules/money.ts";
import {
  applyTenders,
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
    expect(checkTenders(tenders, 1000)).toEqual([
      { field, message: expect.stringContaining(message) },
    ]);
  });

  test("payments that were not checked are never applied", () => {
    expect(() => applyTenders([cash(999)], 1000)).toThrow(RangeError);
    expect(() => applyTenders([card(1001)], 1000)).toThrow(RangeError);
  });
});

describe("what is applied", () => {
  test("cash covers what the others leave and gives change", () => {
    const tenders = [cash(2000), card(2000, "T-0042")];
    expect(checkTenders(tenders, 3003)).toEqual([]);
    expect(applyTenders(tenders, 3003)).toEqual({
      tenders: [cash(1003), card(2000, "T-0042")],
      cashGiven: 2000,
      change: 997,
    });
  });

  test("without cash there is no change", () => {
    expect(applyTenders([card(1000)], 1000)).toMatchObject({ cashGiven: 0, change: 0 });
  });

  test("accepted tenders pay exactly what is due, each with something above zero", () => {
    const tender = fc.record({
      kind: fc.constantFrom(...tenderKinds),
      amount: fc.integer({ min: 1, max: 2000 }),
    });
    fc.assert(
      fc.property(
        fc.array(tender, { maxLength: 4 }),
        fc.integer({ min: 1, max: 4000 }),
        (tenders, due) => {
          if (checkTenders(tenders, due).length > 0) return;
          const payment = applyTenders(tenders, due);
          expect(total(payment.tenders.map(({ amount }) => amount))).toBe(due);
          expect(payment.tenders.every(({ amount }) => amount > 0)).toBe(true);
          expect(payment.change).toBeLessThanOrEqual(payment.cashGiven);
        },
      ),
      { numRuns: 1000 },
    );
  });
});
