import { taxOf } from "../../../src/rules/tax/tax-of.ts";
import type { KindRule, TaxComponent, TaxRules } from "../../../src/rules/tax/tax-rules.ts";
import type { LineToTax } from "../../../src/rules/tax/taxed-part.ts";

export const day = "2026-11-27";

export const component = (
  rate: number,
  rules: KindRule[] = [],
  code = `tax-${rate}`,
): TaxComponent => ({ code, name: `Tax ${rate}`, rate, rules });

export const rulesOf = (components: TaxComponent[], change: Partial<TaxRules> = {}): TaxRules => ({
  included: false,
  basis: "receipt",
  together: true,
  components,
  ...change,
});

export const line = (amount: number, quantity = 1, kind = "scarf"): LineToTax => ({
  kind,
  amount,
  quantity,
  taxed: true,
});

export const taxOn = (
  lines: readonly LineToTax[],
  rules: TaxRules,
  { on = day, exemptBuyer = false } = {},
) => taxOf(lines, rules, { day: on, exemptBuyer });
