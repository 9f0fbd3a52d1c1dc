import {
  delayReceiptMail,
  endReceiptMail,
  takeReceiptMail,
  type WaitingMail,
} from "../database/receipt-mails.ts";
import { gatherReceipt } from "../database/receipt-paper.ts";
import { type MailParts, type MailQueue, type MailWorker, startMailQueue } from "./mail-queue.ts";
import { receiptLetter } from "./receipt-letter.ts";

const receiptQueue: MailQueue<WaitingMail> = {
  take: takeReceiptMail,
  async letter(db, { receiptId, address }) {
    const gathered = await gatherReceipt(db, receiptId);
    if (!gathered) throw new Error(`Receipt ${receiptId} has a mail and is not there`);
    return { ...(await receiptLetter(gathered)), address };
  },
  end: endReceiptMail,
  delay: delayReceiptMail,
};

/** Sends receipts to the buyers who asked. */
export const startReceiptMails = (parts: MailParts): MailWorker =>
  startMailQueue(parts, receiptQueue);
