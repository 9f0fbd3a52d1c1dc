import fc from "fast-check";
import type { KindRule, TaxRules } from "../../../src/rules/tax/tax-rules.ts";

export const taxKinds = ["scarf", "shawl", "yarn"] as const;

/** `RUNS=1000000 npx vitest run --project server tests/rules/receipt` draws a million of each. */
export const numRuns = Number(process.env.RUNS ?? 2000);

const plain = fc.record({ mode: fc.constantFrom("taxable" as const, "exempt" as const) });
const withThreshold = fc.record({
  mode: fc.constantFrom("exempt-under" as const, "excess-over" as const),
  threshold: fc.integer({ min: 1, max: 20_000 }),
});

const kindRules = (threshold: boolean): fc.Arbitrary<KindRule[]> =>
  fc
    .uniqueArray(fc.constantFrom(...taxKinds, "*"), { maxLength: 3 })
    .chain((kinds) =>
      fc.tuple(
        ...kinds.map((kind) =>
          (threshold ? fc.oneof(plain, withThreshold) : plain).map((rule) => ({ kind, ...rule })),
        ),
      ),
    );

const components = (most: number, threshold: boolean) =>
  fc
    .array(fc.record({ rate: fc.integer({ min: 0, max: 16_666 }), rules: kindRules(threshold) }), {
      maxLength: most,
    })
    .map((list) => list.map((one, index) => ({ ...one, code: `${index}`, name: `Tax ${index}` })));

const anyBasis = {
  basis: fc.constantFrom("receipt" as const, "line" as const),
  together: fc.boolean(),
};

/** Rules that `checkTaxRules` takes, in every mode. */
export const anyTaxRules: fc.Arbitrary<TaxRules> = fc.oneof(
  fc.record({ included: fc.constant(false), ...anyBasis, components: components(3, true) }),
  fc.record({ included: fc.constant(true), ...anyBasis, components: components(3, false) }),
  fc.record({ included: fc.constant(true), ...anyBasis, components: components(1, true) }),
);

/** Small prices as often as large ones: roundings go wrong on cents. */
export const anyPrice = fc.oneof(
  fc.integer({ min: 1, max: 30 }),
  fc.integer({ min: 1, max: 40_000 }),
);
