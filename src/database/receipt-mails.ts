import { heldFor } from "../rules/mail-tries.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import type { Database, Transaction } from "./client.ts";

export interface WaitingMail {
  id: string;
  receiptId: string;
  address: string;
  /** This try among them. */
  tries: number;
  createdAt: Date;
}

/** Notes that a receipt is wanted by e-mail; false when this very wish is known already. */
export async function addReceiptMail(
  tx: Transaction,
  { id, receiptId, address }: { id: string; receiptId: string; address: string },
): Promise<boolean> {
  const { count } = await tx.receiptMail.createMany({
    data: [{ id, receiptId, address }],
    skipDuplicates: true,
  });
  return count === 1;
}

/** Takes the message that is due for longest; two workers never take the same one. */
export async function takeReceiptMail(db: Database, now: Date): Promise<WaitingMail | undefined> {
  const until = new Date(now.getTime() + heldFor);
  const rows = await db.$queryRaw<WaitingMail[]>`
    UPDATE receipt_mail SET tries = tries + 1, next_at = ${until} WHERE id = (
      SELECT id FROM receipt_mail WHERE state = 'waiting' AND next_at <= ${now}
      ORDER BY next_at LIMIT 1 FOR UPDATE SKIP LOCKED)
    RETURNING id, receipt_id AS "receiptId", address, tries, created_at AS "createdAt"`;
  return rows[0];
}

/** Ends a message and forgets its address in the same step. */
export const endReceiptMail = (
  db: Database,
  id: string,
  end: { state: "sent" | "failed"; lastError: string; endedAt: Date },
) =>
  db.receiptMail.updateMany({ where: { id, state: "waiting" }, data: { ...end, address: null } });

/** Puts a message back until its next try. */
export const delayReceiptMail = (
  db: Database,
  id: string,
  next: { nextAt: Date; lastError: string },
) => db.receiptMail.updateMany({ where: { id, state: "waiting" }, data: next });

export interface FailedMail {
  receiptId: string;
  /** "2-0017" */
  name: string;
  why: string;
}

/** The receipts of a sale that did not reach their buyers, the newest first. */
export async function failedMails(
  db: Database,
  saleId: string,
  limit: number,
): Promise<{ count: number; newest: FailedMail[] }> {
  const where = { state: "failed", receipt: { saleId } };
  const rows = await db.receiptMail.findMany({
    where,
    include: { receipt: { select: { number: true, till: { select: { number: true } } } } },
    orderBy: [{ endedAt: "desc" }, { id: "desc" }],
    take: limit,
  });
  const newest = rows.map(({ receiptId, receipt, lastError }) => ({
    receiptId,
    name: showReceiptNumber(receipt.till.number, receipt.number),
    why: lastError,
  }));
  return { count: await db.receiptMail.count({ where }), newest };
}
