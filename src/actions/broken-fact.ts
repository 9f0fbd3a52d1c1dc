import { v7 } from "uuid";
import type { ReceiptFact } from "../contract/till-fact.ts";
import { total } from "../rules/money.ts";

/**
 * A receipt whose figures do not fit each other, or that the books cannot hold, as one line in
 * suspense that is worth what its tenders say: that money is in the drawer. What was sent is kept
 * whole beside it. A void takes back every line of its sale, which this one line does not.
 */
export function wholeInSuspense(fact: ReceiptFact): ReceiptFact {
  const tenders = fact.tenders.filter(({ amount }) => Math.sign(amount) === signOf(fact));
  const paid = tenders.length > 0 ? total(tenders.map(({ amount }) => amount)) : signOf(fact);
  const quantity = signOf(fact);
  return {
    ...fact,
    kind: fact.kind === "sale" ? "sale" : "return",
    tenders: tenders.length > 0 ? tenders : [{ kind: "other", amount: paid, reference: "" }],
    lines: [
      {
        id: v7(),
        ...{ kind: "untagged", tag: "", goodsId: null, memberNumber: null, quantity },
        description: "A whole receipt that needs looking into",
        ...{ unitPrice: Math.abs(paid), discount: 0, amount: paid, tax: 0, taxInside: 0 },
        ...{ taxKind: "", donated: false, priceReason: "", reversesLineId: null, goesTo: null },
      },
    ],
    ...{ taxes: [], subtotal: paid, tax: 0, total: paid, rounding: 0, cashGiven: 0, change: 0 },
  };
}

const signOf = ({ kind }: ReceiptFact): 1 | -1 => (kind === "sale" ? 1 : -1);
