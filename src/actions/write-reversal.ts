import { createHash } from "node:crypto";
import { v7 } from "uuid";
import { canonical } from "../database/canonical.ts";
import type { Transaction } from "../database/client.ts";
import type { Deed } from "../database/perform.ts";
import { type ReceiptToWrite, writeReceipt } from "../database/receipt-writing.ts";
import { type ReceiptRead, readReceipt } from "../database/receipts.ts";
import { reversalPostings } from "../rules/ledger-entries.ts";
import { problem } from "../rules/problem.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import type { ComputedReversal } from "../rules/reversal.ts";
import type { Tender } from "../rules/tender.ts";

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
  /** The money that goes back, above zero. */
  tenders: Tender[];
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
  const { kind, reason, tillId, tillNumber, tillSessionId, figures, tenders } = reversal;
  const lines = linesBack(original, figures);
  const content = { kind, reverses: original.id, figures, tenders, tillId };
  const number = await writeReceipt(tx, {
    id,
    saleId: original.saleId,
    tillId,
    tillSessionId,
    kind,
    reversesId: original.id,
    subtotal: figures.subtotal,
    tax: figures.tax,
    total: figures.total,
    cashGiven: 0,
    change: 0,
    fingerprint: createHash("sha256").update(canonical(content)).digest("hex"),
    reason,
    cashierId: deed.actor.id,
    requestId: deed.requestId,
    description: `${kind === "void" ? "Void" : "Return"} of receipt ${original.name}`,
    entryId: v7(),
    lines,
    tenders: tenders.map(({ amount, reference = "", ...tender }) => ({
      ...tender,
      reference,
      amount: 0 - amount,
    })),
    postings: reversalPostings({ lines, tax: figures.tax, tenders }, tillId),
  });
  return { id, name: showReceiptNumber(tillNumber, number), back: 0 - figures.total };
}

function linesBack(original: ReceiptRead, figures: ComputedReversal): ReceiptToWrite["lines"] {
  const byId = new Map(original.lines.map((line) => [line.id, line]));
  return figures.lines.map(({ lineId, quantity, amount, tax }, index) => {
    const { itemId, memberId, tag, description, unitPrice, donated } = byId.get(lineId)!;
    const same = { itemId, memberId, tag, description, unitPrice, donated };
    const reversed = { quantity: 0 - quantity, amount, tax, reversesLineId: lineId };
    return { id: v7(), position: index + 1, ...same, ...reversed };
  });
}

export const storedLines = ({ lines }: ReceiptRead) =>
  lines.map(({ id, quantity, unitPrice, amount, tax, returned }) => ({
    lineId: id,
    quantity,
    unitPrice,
    amount,
    tax,
    alreadyReturned: returned,
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
