import { describe, expect, test } from "vitest";
import { mostLines } from "../../src/rules/basket.ts";
import { computeReceipt, totalsOf } from "../../src/rules/receipt.ts";
import { flatTax, type TaxRules } from "../../src/rules/tax/tax-rules.ts";
import { basketLine as line, plainTerms } from "./basket-support.ts";

const cash = (amount: number) => ({ kind: "cash" as const, amount });
const vat: TaxRules = { ...flatTax(20_000, "VAT"), included: true };

describe("a receipt", () => {
  test("adds lines and tax, takes cash and gives change", () => {
    const lines = [line("a", 499), line("b", 499), line("c", 499)];
    const result = computeReceipt({ ...plainTerms(7250), lines, tenders: [cash(2000)] });
    expect(result).toMatchObject({
      ok: true,
      value: {
        gross: 1497,
        discount: 0,
        subtotal: 1497,
        tax: 109,
        total: 1606,
        components: [{ name: "Sales tax", rate: 7250, base: 1497, tax: 109 }],
        tenders: [cash(1606)],
        cashGiven: 2000,
        change: 394,
        rounding: 0,
        lines: [
          { position: 1, gross: 499, amount: 499, tax: 37, taxIncluded: 0 },
          { position: 2, gross: 499, amount: 499, tax: 36, taxIncluded: 0 },
          { position: 3, gross: 499, amount: 499, tax: 36, taxIncluded: 0 },
        ],
      },
    });
  });

  test("shows the same figures before anyone pays", () => {
    const lines = [line("a", 6800), line("b", 2185)];
    // 68.00 + 21.85 at 7 % is 6.2895, so 6.29: worked by hand.
    const figures = { subtotal: 8985, tax: 629, total: 9614 };
    expect(totalsOf(lines, plainTerms(7000))).toMatchObject(figures);
    expect(totalsOf([], plainTerms(7000))).toMatchObject({ lines: [], gross: 0, total: 0 });
  });

  test("multiplies alike pieces", () => {
    const totals = totalsOf([line("a", 2750, 6)], plainTerms(6350));
    expect(totals).toMatchObject({ gross: 16_500, subtotal: 16_500, tax: 1048 });
  });

  test("takes the markdown off before the tax, where it is allowed", () => {
    const lines = [line("a", 12_000, 1, { markdownAllowed: true }), line("b", 1000)];
    const totals = totalsOf(lines, { ...plainTerms(10_000), markdownRate: 25_000 });
    expect(totals).toMatchObject({
      gross: 13_000,
      discount: 3000,
      subtotal: 10_000,
      tax: 1000,
      total: 11_000,
      lines: [
        { discount: 3000, amount: 9000, tax: 900 },
        { discount: 0, amount: 1000, tax: 100 },
      ],
    });
  });

  test("credits the owner without the tax that stands in the price", () => {
    const totals = totalsOf([line("a", 12_000), line("b", 999)], { ...plainTerms(), tax: vat });
    // 129.99 holds 21.665, so 21.67; 20.00 and 1.665 of it are split to 20.00 and 1.67.
    expect(totals).toMatchObject({
      gross: 12_999,
      subtotal: 10_832,
      tax: 2167,
      total: 12_999,
      lines: [
        { tax: 2000, taxIncluded: 2000, amount: 10_000 },
        { tax: 167, taxIncluded: 167, amount: 832 },
      ],
    });
  });

  test("of an exempt buyer is without tax, and without what stands in the price", () => {
    const lines = [line("a", 12_000)];
    const onTop = totalsOf(lines, { ...plainTerms(20_000), exempt: true });
    expect(onTop).toMatchObject({ subtotal: 12_000, tax: 0, total: 12_000 });
    const inside = totalsOf(lines, { ...plainTerms(), tax: vat, exempt: true });
    expect(inside).toMatchObject({
      gross: 12_000,
      discount: 2000,
      subtotal: 10_000,
      tax: 0,
      total: 10_000,
      lines: [{ discount: 2000, tax: 0, taxIncluded: 0, amount: 10_000 }],
    });
  });

  test("never taxes a donation, but a donated piece is sold like any other", () => {
    const gift = line("gift", 1000, 1, { kind: "donation", tag: "" });
    const totals = totalsOf([gift, line("a", 1000, 1, { donated: true })], plainTerms(10_000));
    expect(totals.lines.map(({ tax }) => tax)).toEqual([0, 100]);
  });

  test("rounds cash after tax: 1.83 + 2.86 and 5 % is 4.92, so 4.90 (Canada, Budget 2012)", () => {
    const terms = { ...plainTerms(5000), cash: { step: 5, fives: "up" } as const };
    const lines = [line("a", 183), line("b", 286)];
    expect(computeReceipt({ ...terms, lines, tenders: [cash(490)] })).toMatchObject({
      value: { total: 492, tenders: [cash(490)], rounding: -2 },
    });
    const card = { kind: "card" as const, amount: 492 };
    expect(computeReceipt({ ...terms, lines, tenders: [card] })).toMatchObject({
      value: { total: 492, tenders: [card], rounding: 0 },
    });
  });

  test("holds the largest basket there is", () => {
    const lines = Array.from({ length: mostLines }, (_, number) =>
      line(`${number}`, 1_000_000_000_000),
    );
    const totals = totalsOf(lines, plainTerms(50_000));
    expect(totals.total).toBe(mostLines * 1_500_000_000_000);
  });
});

describe("what is refused, in the receipt's words", () => {
  test.each([
    ["a basket", [line("a", 0)], [cash(1000)], "lines.0.unitPrice"],
    ["tenders", [line("a", 1001)], [], "tenders"],
  ])("%s that does not fit", (_, lines, tenders, field) => {
    expect(computeReceipt({ ...plainTerms(), lines, tenders })).toMatchObject({
      problem: {
        code: "invalid-input",
        detail: expect.stringContaining("not recorded yet"),
        errors: [{ field }],
      },
    });
  });
});
