import type { BasketLine } from "../../src/rules/basket.ts";
import { exactCash } from "../../src/rules/cash-rounding.ts";
import type { ReceiptTerms } from "../../src/rules/receipt.ts";
import { flatTax } from "../../src/rules/tax/tax-rules.ts";

/** One item in a basket, with whatever a test wants to be different. */
export const basketLine = (
  key: string,
  unitPrice: number,
  quantity = 1,
  change: Partial<BasketLine> = {},
): BasketLine => ({
  kind: "item",
  key,
  itemId: key,
  tag: "10100126",
  description: "Huck lace towel",
  memberId: "weaver",
  memberNumber: 101,
  taxKind: "towel",
  unitPrice,
  quantity,
  donated: false,
  markdownAllowed: false,
  ...change,
});

/** The terms of a plain sale with one tax, and cash to the cent. */
export const plainTerms = (rate = 0): ReceiptTerms & { cash: typeof exactCash } => ({
  tax: flatTax(rate, "Sales tax"),
  day: "2026-11-27",
  exempt: false,
  markdownRate: 0,
  cash: exactCash,
});
