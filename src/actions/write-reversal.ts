import { createHash } from "node:crypto";
import { v7 } from "uuid";
import { canonical } from "../database/canonical.ts";
import type { Transaction } from "../database/client.ts";
import type { Deed } from "../database/perform.ts";
import {
  type LineToWrite,
  type ReceiptToWrite,
  writeReceipt,
} from "../database/receipt-writing.ts";
import { type ReceiptRead, readReceipt } from "../database/receipts.ts";
import { receiptPostings } from "../rules/ledger-entries.ts";
import { total } from "../rules/money.ts";
import { problem } from "../rules/problem.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import type { ComputedReversal, StoredLine } from "../rules/reversal.ts";
import { taxBack } from "../rules/tax/tax-back.ts";

/** Reads a receipt and holds it, so that voids and returns of it come one after the other. */
export async function holdReceipt(
  tx: Transaction,
  receiptId: string,
): Promise<ReceiptRead | undefined> {
  await tx.$executeRaw`SELECT 1 FROM receipt WHERE id = ${receiptId}::uuid FOR NO KEY UPDATE`;
  return readReceipt(tx, receiptId);
}

export interface Reversal {
  kind: "return" | "void";
  reason: string;
  tillId: string;
  tillNumber: number;
  tillSessionId: string;
  figures: ComputedReversal;
  /** The money that goes back, zero or below, and what cash rounding did to it. */
  tenders: ReceiptToWrite["tenders"];
  rounding: number;
  /** Where the pieces of a line go; the floor when it is not said. */
  goesTo?: ReadonlyMap<string, "floor" | "member">;
}

export interface Reversed {
  id: string;
  name: string;
  /** What goes back to the buyer, above zero. */
  back: number;
}

/** Records a void or a return as a receipt of its own, with the next number of its till. */
export async function writeReversal(
  tx: Transaction,
  deed: Deed,
  original: ReceiptRead,
  reversal: Reversal,
): Promise<Reversed> {
  const id = v7();
  const { kind, reason, tillId, tillNumber, tillSessionId, figures, tenders, rounding } = reversal;
  const lines = linesBack(original, figures, reversal.goesTo);
  const taxes = taxBack(
    figures.tax,
    original.taxes.map(({ left, baseLeft, ...tax }) => ({ ...tax, tax: left, base: baseLeft })),
  ).filter(({ tax }) => tax !== 0);
  const content = { kind, reverses: original.id, figures, tenders, tillId };
  const number = await writeReceipt(tx, {
    id,
    saleId: original.saleId,
    tillId,
    tillSessionId,
    kind,
    reversesId: original.id,
    ...{ awaitsId: null, exchangeId: null, number: null, madeAt: null, late: false },
    subtotal: figures.subtotal,
    tax: figures.tax,
    total: figures.total,
    ...{ cashGiven: 0, change: 0, rounding, exemption: original.exemption },
    fingerprint: createHash("sha256").update(canonical(content)).digest("hex"),
    reason,
    cashierId: deed.actor.id,
    requestId: deed.requestId,
    description: `${kind === "void" ? "Void" : "Return"} of receipt ${original.name}`,
    entryId: v7(),
    ...{ lines, taxes, tenders },
    postings: receiptPostings({ lines, taxes, tenders, rounding }, tillId),
  });
  const back = 0 - total(tenders.map(({ amount }) => amount));
  return { id, name: showReceiptNumber(tillNumber, number), back };
}

function linesBack(
  original: ReceiptRead,
  figures: ComputedReversal,
  goesTo?: ReadonlyMap<string, "floor" | "member">,
): LineToWrite[] {
  const byId = new Map(original.lines.map((line) => [line.id, line]));
  return figures.lines.map(({ lineId, quantity, discount, tax, taxIncluded, amount }, index) => {
    const { position: _there, returned: _before, ...line } = byId.get(lineId)!;
    return {
      ...line,
      id: v7(),
      position: index + 1,
      quantity: 0 - quantity,
      ...{ discount, tax, taxInside: taxIncluded, amount },
      ...{ priceReason: "", reversesLineId: lineId, awaitsLineId: null },
      goesTo: goesTo?.get(lineId) ?? "floor",
    };
  });
}

export const storedLines = ({ lines }: ReceiptRead): StoredLine[] =>
  lines.map((line) => ({
    lineId: line.id,
    quantity: line.quantity,
    unitPrice: line.unitPrice,
    discount: line.discount,
    tax: line.tax,
    taxIncluded: line.taxInside,
    amount: line.amount,
    alreadyReturned: line.returned,
  }));

/** What the database says when two people take back the same thing or the state has moved on. */
export const reversalRefusals = {
  "returned-already": () =>
    problem("already-done", "These pieces have come back already. Nothing was recorded twice."),
  receipt_one_void: () => problem("already-done", "This receipt is void already."),
  "till-closed": () =>
    problem("till-closed", "The till was cashed up meanwhile. Nothing was recorded."),
  "sale-stage": () =>
    problem("stage-closed", "The sale has moved on to another stage. Nothing was recorded."),
};
