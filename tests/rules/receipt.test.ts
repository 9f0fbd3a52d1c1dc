import Decimal from "decimal.js";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { total } from "../../src/rules/money.ts";
import { type BasketLine, computeReceipt, mostLines, totalsOf } from "../../src/rules/receipt.ts";

const line = (itemId: string, unitPrice: number, quantity = 1): BasketLine => ({
  itemId,
  tag: "10100126",
  description: "Huck lace towel",
  memberId: "weaver",
  memberNumber: 101,
  unitPrice,
  quantity,
  donated: false,
});

const errorsOf = (lines: BasketLine[], tenders = [{ kind: "cash" as const, amount: 1000 }]) => {
  const result = computeReceipt({ lines, taxRate: 0, tenders });
  return result.ok ? [] : result.problem.errors.map(({ field }) => field);
};

describe("a receipt", () => {
  test("adds lines and tax, takes cash and gives change", () => {
    const lines = [line("a", 499), line("b", 499), line("c", 499)];
    const tenders = [{ kind: "cash" as const, amount: 2000 }];
    const result = computeReceipt({ lines, taxRate: 7250, tenders });
    expect(result).toMatchObject({
      ok: true,
      value: {
        subtotal: 1497,
        tax: 109,
        total: 1606,
        tenders: [{ kind: "cash", amount: 1606 }],
        cashGiven: 2000,
        change: 394,
        lines: [
          { position: 1, amount: 499, tax: 37 },
          { position: 2, amount: 499, tax: 36 },
          { position: 3, amount: 499, tax: 36 },
        ],
      },
    });
  });

  test("shows the same figures before anyone pays", () => {
    const lines = [line("a", 6800), line("b", 2185)];
    // 68.00 + 21.85 at 7 % is 6.2895, so 6.29: worked by hand.
    expect(totalsOf(lines, 7000)).toMatchObject({ subtotal: 8985, tax: 629, total: 9614 });
    expect(totalsOf([], 7000)).toEqual({ lines: [], subtotal: 0, tax: 0, total: 0 });
  });

  test("multiplies alike pieces", () => {
    expect(totalsOf([line("a", 2750, 6)], 6350)).toMatchObject({ subtotal: 16500, tax: 1048 });
  });
});

describe("what is refused, and where", () => {
  test.each<[string, BasketLine[], string[]]>([
    ["no lines", [], ["lines"]],
    ["no pieces", [line("a", 500, 0)], ["lines.0.quantity"]],
    ["half a piece", [line("a", 500, 0.5)], ["lines.0.quantity"]],
    ["no price", [line("a", 500), line("b", 0)], ["lines.1.unitPrice"]],
    ["the same item twice", [line("a", 500), line("b", 5), line("a", 500)], ["lines.2.itemId"]],
    ["an endless amount", [line("a", 900_000_000_000, 2)], ["lines.0.quantity"]],
    [
      "an endless basket",
      Array.from({ length: mostLines + 1 }, (_, number) => line(`${number}`, 1)),
      ["lines"],
    ],
  ])("%s", (_, lines, fields) => {
    expect(errorsOf(lines)).toEqual(fields);
  });

  test("tenders that do not fit, in the receipt's words", () => {
    const result = computeReceipt({ lines: [line("a", 1001)], taxRate: 0, tenders: [] });
    expect(result).toMatchObject({
      problem: {
        code: "invalid-input",
        detail: expect.stringContaining("not recorded yet"),
        errors: [{ field: "tenders" }],
      },
    });
  });
});

test("every figure agrees with an independent decimal library, and all of it adds up", () => {
  const basket = fc.array(
    fc.record({
      price: fc.integer({ min: 1, max: 500_000 }),
      quantity: fc.integer({ min: 1, max: 9 }),
    }),
    { minLength: 1, maxLength: 12 },
  );
  fc.assert(
    fc.property(
      basket,
      fc.integer({ min: 0, max: 25_000 }),
      fc.nat(5000),
      (items, taxRate, extra) => {
        const lines = items.map(({ price, quantity }, index) => line(`${index}`, price, quantity));
        const due = totalsOf(lines, taxRate).total;
        const tenders = [{ kind: "cash" as const, amount: due + extra }];
        const result = computeReceipt({ lines, taxRate, tenders });
        if (!result.ok) throw new Error(result.problem.detail);
        const receipt = result.value;
        const sum = items.reduce(
          (before, { price, quantity }) => before.plus(new Decimal(price).div(100).times(quantity)),
          new Decimal(0),
        );
        const tax = sum.times(taxRate).div(100_000).toDecimalPlaces(2, Decimal.ROUND_HALF_UP);
        expect(receipt.subtotal).toBe(sum.times(100).toNumber());
        expect(receipt.tax).toBe(tax.times(100).toNumber());
        expect(total(receipt.lines.map((one) => one.tax))).toBe(receipt.tax);
        expect(total(receipt.tenders.map(({ amount }) => amount))).toBe(receipt.total);
        expect(receipt.cashGiven - receipt.change).toBe(receipt.total);
      },
    ),
  );
});
