import { v7 } from "uuid";
import type { ReceiptFact } from "../../contract/till-fact.ts";
import { figures, lineTaxes } from "./baskets.ts";
import type { BenchItem, Hall } from "./hall.ts";

/** A sale of three pieces for cash, as a till's page keeps it. */
export const saleFact = (
  { tills, cashierId, price }: Hall,
  till: number,
  number: number,
  items: readonly BenchItem[],
): ReceiptFact => ({
  ...{ id: v7(), number, madeAt: new Date().toISOString(), cashierId },
  tillSessionId: tills[till]!.session,
  ...{ kind: "sale", reversesId: null, exchangeId: null, reason: "", exemption: "" },
  lines: items.map(({ tag }, index) => ({
    ...{ id: v7(), kind: "item", tag, goodsId: null, description: "Scarf", memberNumber: null },
    ...{ quantity: 1, unitPrice: price, discount: 0, amount: price, tax: lineTaxes[index]! },
    ...{ taxInside: 0, taxKind: "scarf", donated: false, priceReason: "" },
    ...{ reversesLineId: null, goesTo: null },
  })),
  taxes: [
    { code: "tax", name: "Sales tax", rate: 8_250, base: figures.subtotal, tax: figures.tax },
  ],
  tenders: [{ kind: "cash", amount: figures.total, reference: "" }],
  ...{ ...figures, rounding: 0, cashGiven: figures.total, change: 0 },
});
