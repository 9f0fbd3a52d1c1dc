import fc from "fast-check";
import { expect, test } from "vitest";
import { total } from "../../../src/rules/money.ts";
import { checkTaxRules } from "../../../src/rules/tax/check-tax-rules.ts";
import { anyPrice, anyTaxRules, numRuns, taxKinds } from "./arbitrary.ts";
import { oracleTax } from "./oracle.ts";
import { taxOn } from "./support.ts";

const anyLines = fc.array(
  fc.record({
    kind: fc.constantFrom(...taxKinds),
    amount: fc.oneof(fc.constant(0), anyPrice),
    quantity: fc.integer({ min: 1, max: 4 }),
    taxed: fc.boolean(),
  }),
  { maxLength: 8 },
);

test("the tax agrees with an independent decimal library, in every mode", () => {
  fc.assert(
    fc.property(anyLines, anyTaxRules, (lines, rules) => {
      expect(checkTaxRules(rules)).toEqual([]);
      const ours = taxOn(lines, rules);
      const theirs = oracleTax(lines, rules);
      expect(ours.tax).toBe(theirs.tax);
      if (theirs.perLine) expect(ours.perLine).toEqual(theirs.perLine);
      if (theirs.perComponent)
        expect(ours.components.map(({ tax }) => tax)).toEqual(theirs.perComponent);
      const exact = theirs.exactPerLine.reduce((sum, one) => sum + one, 0);
      for (const [index, part] of theirs.perLine ? [] : ours.perLine.entries())
        expect(
          Math.abs(part - (ours.tax * theirs.exactPerLine[index]!) / (exact || 1)),
        ).toBeLessThan(1.000001);
    }),
    { numRuns },
  );
});

test("the parts make the whole, and no tax is below zero or above its line", () => {
  fc.assert(
    fc.property(anyLines, anyTaxRules, fc.boolean(), (lines, rules, exemptBuyer) => {
      const { tax, perLine, inPrice, components } = taxOn(lines, rules, { exemptBuyer });
      expect(total(perLine)).toBe(tax);
      expect(total(components.map((one) => one.tax))).toBe(tax);
      for (const [index, { amount }] of lines.entries())
        for (const part of [perLine[index]!, inPrice[index]!]) {
          expect(part).toBeGreaterThanOrEqual(0);
          expect(part).toBeLessThanOrEqual(amount);
        }
      for (const { base } of components) expect(base).toBeGreaterThanOrEqual(0);
      if (exemptBuyer) expect(tax).toBe(0);
    }),
    { numRuns },
  );
});

test("half of the price is the highest rate under which that holds in every mode", () => {
  const cents = fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 1, maxLength: 6 });
  fc.assert(
    fc.property(
      cents,
      anyTaxRules,
      fc.array(fc.nat(50_000), { maxLength: 4 }),
      (amounts, mode, cuts) => {
        const ends = [0, ...cuts.toSorted((one, other) => one - other), 50_000];
        const components = ends
          .slice(1)
          .map((end, index) => ({ code: "", name: "", rate: end - ends[index]!, rules: [] }));
        const lines = amounts.map((amount) => ({ kind: "", amount, quantity: 1, taxed: true }));
        const { perLine } = taxOn(lines, { ...mode, components });
        expect(perLine.every((part, index) => part <= amounts[index]!)).toBe(true);
      },
    ),
    { numRuns },
  );
});
