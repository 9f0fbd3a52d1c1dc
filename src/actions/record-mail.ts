import type { ReceiptMailFact } from "../contract/receipt-mail.ts";
import type { OutboxAnswer } from "../contract/till-fact.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { addReceiptMail } from "../database/receipt-mails.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import type { FromTill } from "./record-fact.ts";

/**
 * Records that a till's buyer wants the receipt by e-mail. The receipt went out before it, so it
 * is here; a wish for one that is not must not hold up the money behind it, and is told instead.
 */
export async function recordMailFact(
  { db, tillId, saleId, requestId }: FromTill,
  fact: ReceiptMailFact,
): Promise<Result<OutboxAnswer>> {
  const { id, receiptId } = fact;
  const receipt = await db.receipt.findFirst({
    where: { id: receiptId, saleId },
    select: { cashierId: true },
  });
  const { enrolledById } = await db.tillDevice.findUniqueOrThrow({ where: { tillId } });
  const byId = receipt?.cashierId ?? enrolledById;
  const actor = { id: byId, number: 0, name: "", roles: [] };
  return perform<OutboxAnswer>({ db, actor, requestId }, "mail-receipt", { id }, async (tx) => {
    if (receipt) {
      const { recorded } = await note(tx, fact);
      return ok({ value: { id, recorded, notes: [] }, subjectId: receiptId });
    }
    const kind = "mail-without-receipt";
    const known = await tx.discrepancy.findFirst({
      where: { saleId, kind, detail: { path: ["mailId"], equals: id } },
    });
    const detail = { receiptId, mailId: id };
    if (!known) await tx.discrepancy.create({ data: { saleId, kind, detail, byId } });
    const recorded = known ? "before" : "now";
    return ok({ value: { id, recorded, notes: [kind] }, subjectId: receiptId });
  });
}

/**
 * Sends a receipt to a buyer's address, as a person asks. The id of the wish is its key, so that
 * the address is kept nowhere else: not with the key, not in the audit.
 */
export function mailReceipt(
  { db, actor, requestId }: Deed,
  wish: { id: string; receiptId: string; address: string },
): Promise<Result<{ id: string; recorded: "now" | "before" }>> {
  const { id, receiptId } = wish;
  return perform({ db, actor, requestId }, "mail-receipt", { id }, async (tx) => {
    if (!(await tx.receipt.findUnique({ where: { id: receiptId }, select: { id: true } })))
      return refuse("not-found", "There is no such receipt. Nothing was sent.");
    return ok({ value: await note(tx, wish), subjectId: receiptId });
  });
}

async function note(tx: Transaction, wish: { id: string; receiptId: string; address: string }) {
  const added = await addReceiptMail(tx, wish);
  return { id: wish.id, recorded: added ? ("now" as const) : ("before" as const) };
}
