import type { TillSceneShown } from "../../../contract/till-device.ts";
import type { FactLine, ReceiptFact } from "../../../contract/till-fact.ts";
import type { ComputedLine } from "../../../rules/receipt.ts";
import { applyTenders } from "../../../rules/tender.ts";
import type { Basket, TillLine } from "./basket.ts";
import { cashRule, dueAt } from "./figures.ts";

/** A receipt before the till gives it its number, which happens in the same step as storing it. */
export type Unnumbered = Omit<ReceiptFact, "number">;

/** Who sells, in which opening of the drawer. */
export interface Seller {
  sessionId: string;
  cashierId: string;
}

/**
 * What happened at the till, with every figure as it was shown and paid. Throws for a basket that
 * is not paid: `notReady` comes first. `exchangeId` names the return of an exchange.
 */
export function saleFact(
  basket: Basket,
  seller: Seller,
  scene: TillSceneShown,
  now: Date,
  exchangeId: string | null,
): Unnumbered {
  const { totals, due, exchanged } = dueAt(scene, basket, now);
  const payment = applyTenders(due > 0 ? basket.tenders : [], Math.max(due, 0), cashRule(scene));
  const exchange = { kind: "exchange" as const, amount: exchanged, reference: "" };
  const { subtotal, tax, total, components } = totals;
  return {
    id: basket.id,
    madeAt: now.toISOString(),
    tillSessionId: seller.sessionId,
    cashierId: seller.cashierId,
    kind: "sale",
    reversesId: null,
    exchangeId,
    reason: "",
    exemption: basket.exemption,
    lines: totals.lines.map((line, index) => factLine(line, basket.lines[index]!)),
    taxes: components.filter(({ base, tax }) => base !== 0 || tax !== 0),
    tenders: [
      ...(exchanged === 0 ? [] : [exchange]),
      ...payment.tenders.map(({ kind, amount, reference = "" }) => ({ kind, amount, reference })),
    ],
    ...{ subtotal, tax, total },
    rounding: payment.rounding,
    cashGiven: payment.cashGiven,
    change: payment.change,
  };
}

const factLine = (computed: ComputedLine, line: TillLine): FactLine => ({
  id: line.id,
  kind: line.kind,
  tag: line.tag,
  goodsId: line.goodsId ?? null,
  // The contract holds 120 signs; a longer text of the list is cut on paper as well.
  description: line.description.slice(0, 120),
  memberNumber: line.memberNumber ?? null,
  quantity: line.quantity,
  unitPrice: line.unitPrice,
  discount: computed.discount,
  amount: computed.amount,
  tax: computed.tax,
  taxInside: computed.taxIncluded,
  taxKind: line.taxKind,
  donated: line.donated,
  priceReason: line.priceReason ?? "",
  reversesLineId: null,
  goesTo: null,
});
