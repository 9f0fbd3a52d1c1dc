import { v7 } from "uuid";
import type { LineToWrite } from "../database/receipt-writing.ts";
import type { ComputedLine } from "../rules/receipt.ts";

/** Lines of a sale as they are recorded. A piece without a tag waits in suspense for its owner. */
export const linesToWrite = (lines: readonly ComputedLine[]): LineToWrite[] =>
  lines.map((line) => ({
    id: v7(),
    position: line.position,
    kind: line.kind,
    itemId: line.itemId ?? null,
    goodsId: line.goodsId ?? null,
    memberId: line.memberId ?? null,
    tag: line.tag,
    description: line.description,
    quantity: line.quantity,
    unitPrice: line.unitPrice,
    discount: line.discount,
    amount: line.amount,
    tax: line.tax,
    taxInside: line.taxIncluded,
    taxKind: line.taxKind,
    donated: line.donated,
    suspended: line.kind === "untagged",
    priceReason: line.priceReason ?? "",
    reversesLineId: null,
    awaitsLineId: null,
    goesTo: null,
  }));
