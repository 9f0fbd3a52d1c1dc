import Decimal from "decimal.js";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { BasketLine } from "../../src/rules/basket.ts";
import { cashSteps } from "../../src/rules/cash-rounding.ts";
import { total } from "../../src/rules/money.ts";
import { computeReceipt, totalsOf } from "../../src/rules/receipt.ts";
import { basketLine } from "./basket-support.ts";
import { anyPrice, anyTaxRules, numRuns, taxKinds } from "./tax/arbitrary.ts";
import { oracleTax } from "./tax/oracle.ts";

const anyBasket: fc.Arbitrary<BasketLine[]> = fc
  .array(
    fc.record({
      kind: fc.constantFrom(
        "item" as const,
        "untagged" as const,
        "goods" as const,
        "donation" as const,
      ),
      taxKind: fc.constantFrom(...taxKinds),
      unitPrice: anyPrice,
      quantity: fc.integer({ min: 1, max: 5 }),
      donated: fc.boolean(),
      markdownAllowed: fc.boolean(),
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((drawn) => drawn.map((one, index) => ({ ...basketLine(`${index}`, 1), ...one })));

const anyTerms = fc.record({
  tax: anyTaxRules,
  day: fc.constant("2026-11-27"),
  exempt: fc.boolean(),
  markdownRate: fc.oneof(fc.constant(0), fc.nat(50_000), fc.constant(100_000)),
  cash: fc.record({
    step: fc.constantFrom(...cashSteps),
    fives: fc.constantFrom("up" as const, "down" as const),
  }),
});

const halfUp = (value: Decimal) => value.toDecimalPlaces(2, Decimal.ROUND_HALF_UP);

/** Cash to the nearest step by Decimal's own rounding to a multiple. */
const nearest = (amount: number, step: number, fives: "up" | "down") =>
  new Decimal(amount)
    .toNearest(step, fives === "up" ? Decimal.ROUND_HALF_UP : Decimal.ROUND_HALF_DOWN)
    .toNumber();

const sumOf = (values: readonly Decimal[]) =>
  values.reduce((sum, value) => sum.plus(value), new Decimal(0));

// A million baskets: RUNS=1000000 npx vitest run --project server tests/rules/receipt.property.test.ts
test("every figure agrees with an independent decimal library, in every tax mode", {
  timeout: 6 * 3_600_000,
}, () => {
  fc.assert(
    fc.property(anyBasket, anyTerms, fc.nat(5000), (lines, terms, extra) => {
      const totals = totalsOf(lines, terms);
      const gross = lines.map(({ unitPrice, quantity }) =>
        new Decimal(unitPrice).div(100).times(quantity),
      );
      const open = sumOf(gross.filter((_, index) => lines[index]!.markdownAllowed));
      const discount = halfUp(open.times(terms.markdownRate).div(100_000));
      expect(totals.gross).toBe(sumOf(gross).times(100).toNumber());

      const paying = totalsOf(lines, { ...terms, exempt: false });
      expect(paying.discount).toBe(discount.times(100).toNumber());
      const toTax = paying.lines.map((line) => ({
        kind: line.taxKind,
        amount: line.gross - line.discount,
        quantity: line.quantity,
        taxed: line.kind !== "donation",
      }));
      const { tax } = oracleTax(toTax, terms.tax);
      const afterDiscount = sumOf(gross).minus(discount).times(100);
      const { included } = terms.tax;
      const takenOff = terms.exempt && included ? tax : 0;
      expect(totals.discount).toBe(paying.discount + takenOff);
      expect(totals.tax).toBe(terms.exempt ? 0 : tax);
      expect(totals.subtotal).toBe(afterDiscount.minus(included ? tax : 0).toNumber());
      expect(totals.total).toBe(totals.subtotal + totals.tax);

      const due = nearest(totals.total, terms.cash.step, terms.cash.fives);
      const tenders = totals.total === 0 ? [] : [{ kind: "cash" as const, amount: due + extra }];
      const result = computeReceipt({ ...terms, lines, tenders });
      if (!result.ok) throw new Error(result.problem.detail);
      const receipt = result.value;
      expect(receipt.rounding).toBe(tenders.length > 0 ? due - totals.total : 0);
      expect(receipt.change).toBe(tenders.length > 0 ? extra : 0);
    }),
    { numRuns },
  );
});

test("all of it adds up, line by line and part by part", { timeout: 6 * 3_600_000 }, () => {
  fc.assert(
    fc.property(anyBasket, anyTerms, (lines, terms) => {
      const totals = totalsOf(lines, terms);
      const sum = (figure: "gross" | "discount" | "tax" | "amount") =>
        total(totals.lines.map((line) => line[figure]));
      expect(sum("gross")).toBe(totals.gross);
      expect(sum("discount")).toBe(totals.discount);
      expect(sum("amount")).toBe(totals.subtotal);
      expect(sum("tax")).toBe(totals.tax);
      expect(total(totals.components.map(({ tax }) => tax))).toBe(totals.tax);
      const paying = totalsOf(lines, { ...terms, exempt: false });
      for (const [index, line] of totals.lines.entries()) {
        expect(line.amount).toBe(line.gross - line.discount - line.taxIncluded);
        expect(line.amount).toBe(paying.lines[index]!.amount);
        expect(line.amount).toBeGreaterThanOrEqual(0);
        expect(line.taxIncluded).toBe(terms.tax.included ? line.tax : 0);
        const mostOff = line.markdownAllowed ? line.gross : 0;
        expect(paying.lines[index]!.discount).toBeLessThanOrEqual(mostOff);
      }
    }),
    { numRuns },
  );
});
