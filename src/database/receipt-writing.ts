import type { Posting } from "../rules/ledger.ts";
import type { ComputedLine } from "../rules/receipt.ts";
import type { Tender } from "../rules/tender.ts";
import type { Database, Transaction } from "./client.ts";

type LineToWrite = Omit<ComputedLine, "memberNumber"> & {
  id: string;
  reversesLineId: string | null;
};

/** A whole receipt; on a return or a void every quantity and amount is below zero. */
export interface ReceiptToWrite {
  id: string;
  saleId: string;
  tillId: string;
  tillSessionId: string;
  kind: "sale" | "return" | "void";
  reversesId: string | null;
  subtotal: number;
  tax: number;
  total: number;
  cashGiven: number;
  change: number;
  fingerprint: string;
  reason: string;
  cashierId: string;
  requestId: string;
  description: string;
  entryId: string;
  lines: LineToWrite[];
  tenders: Required<Tender>[];
  postings: Posting[];
}

/** Records a receipt in one statement, so that it cannot be half done. Returns its number. */
export async function writeReceipt(
  db: Database | Transaction,
  receipt: ReceiptToWrite,
): Promise<number> {
  const rows = await db.$queryRaw<{ number: number }[]>`/* keep: record-receipt */
    SELECT record_receipt(${JSON.stringify(receipt)}::jsonb) AS number`;
  return rows[0]!.number;
}
