import { v7 } from "uuid";
import type { FactLine, ReceiptFact } from "../../src/contract/till-fact.ts";
import { totalsOf } from "../../src/rules/receipt.ts";
import { flatTax } from "../../src/rules/tax/tax-rules.ts";
import { type BuiltPiece, testTaxRate } from "./build-till.ts";
import type { Hall } from "./till-device.ts";

/** A line of a fact as a till makes it for a tagged piece. */
export const lineOf = (piece: BuiltPiece, quantity = 1): FactLine => ({
  ...{ id: v7(), kind: "item", tag: piece.tag, goodsId: null, description: "Scarf" },
  ...{ memberNumber: null, quantity, unitPrice: piece.price, discount: 0 },
  amount: piece.price * quantity,
  ...{ tax: 0, taxInside: 0, taxKind: "", donated: false, priceReason: "" },
  ...{ reversesLineId: null, goesTo: null },
});

export const untagged = (price: number, memberNumber: number | null = null): FactLine => ({
  ...lineOf({ id: "", tag: "", price } as BuiltPiece),
  kind: "untagged",
  description: "Runner without a tag",
  memberNumber,
});

/** A sale paid in cash, with the figures that the rules give. */
export function saleFact(
  hall: Hall,
  till: { id: string; sessionId: string },
  number: number,
  lines: FactLine[],
  more: Partial<ReceiptFact> = {},
): ReceiptFact {
  const totals = totalsOf(
    lines.map((line) => ({
      ...line,
      key: line.id,
      goodsId: undefined,
      markdownAllowed: false,
      memberNumber: undefined,
    })),
    { tax: flatTax(testTaxRate, "Tax"), day: "2026-11-27", exempt: false, markdownRate: 0 },
  );
  return {
    ...{ id: v7(), number, madeAt: new Date().toISOString(), tillSessionId: till.sessionId },
    cashierId: hall.cashier.id,
    ...{ kind: "sale", reversesId: null, exchangeId: null, reason: "", exemption: "" },
    lines: lines.map((line, index) => ({ ...line, tax: totals.lines[index]!.tax })),
    taxes: totals.components,
    tenders: [{ kind: "cash", amount: totals.total, reference: "" }],
    ...{ subtotal: totals.subtotal, tax: totals.tax, total: totals.total },
    ...{ rounding: 0, cashGiven: totals.total, change: 0 },
    ...more,
  };
}

/** Takes back a whole sale: every figure below zero. */
export const returnFact = (
  sale: ReceiptFact,
  till: { sessionId: string },
  number: number,
  more: Partial<ReceiptFact> = {},
): ReceiptFact => ({
  ...sale,
  ...{ id: v7(), number, tillSessionId: till.sessionId, kind: "return" },
  ...{ reversesId: sale.id, reason: "Too short" },
  lines: sale.lines.map((line) => ({
    ...line,
    id: v7(),
    quantity: -line.quantity,
    amount: -line.amount,
    tax: 0 - line.tax,
    reversesLineId: line.id,
    goesTo: "floor",
  })),
  taxes: sale.taxes.map((tax) => ({ ...tax, base: -tax.base, tax: -tax.tax })),
  tenders: sale.tenders.map((tender) => ({ ...tender, amount: -tender.amount })),
  ...{ subtotal: -sale.subtotal, tax: -sale.tax, total: -sale.total, cashGiven: 0, change: 0 },
  ...more,
});
