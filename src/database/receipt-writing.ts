import type { Posting } from "../rules/ledger.ts";
import type { LineKind } from "../rules/line-kind.ts";
import type { TenderKind } from "../rules/tender.ts";
import type { Database, Transaction } from "./client.ts";

export interface LineToWrite {
  id: string;
  position: number;
  kind: LineKind;
  itemId: string | null;
  goodsId: string | null;
  memberId: string | null;
  tag: string;
  description: string;
  quantity: number;
  unitPrice: number;
  discount: number;
  amount: number;
  tax: number;
  taxInside: number;
  taxKind: string;
  donated: boolean;
  /** Nobody's yet: its money waits in suspense and no piece moves. */
  suspended: boolean;
  priceReason: string;
  reversesLineId: string | null;
  /** The line it takes back once the sale with that line has arrived. */
  awaitsLineId: string | null;
  /** Where a piece that comes back goes. */
  goesTo: "floor" | "member" | null;
}

/** A whole receipt; on a return or a void every quantity and amount is below zero. */
export interface ReceiptToWrite {
  id: string;
  saleId: string;
  tillId: string;
  tillSessionId: string;
  kind: "sale" | "return" | "void";
  reversesId: string | null;
  /** The sale it takes back, when that has not arrived yet. */
  awaitsId: string | null;
  exchangeId: string | null;
  /** The till's own number, or null for the next one. */
  number: number | null;
  /** The till's own clock, or null for now. */
  madeAt: string | null;
  /** A fact from a till is taken while settling too. */
  late: boolean;
  subtotal: number;
  tax: number;
  total: number;
  cashGiven: number;
  change: number;
  rounding: number;
  exemption: string;
  fingerprint: string;
  reason: string;
  cashierId: string;
  requestId: string;
  description: string;
  entryId: string;
  lines: LineToWrite[];
  taxes: { code: string; name: string; rate: number; base: number; tax: number }[];
  tenders: { kind: TenderKind | "exchange"; amount: number; reference: string }[];
  postings: Posting[];
}

/** Two accounts of one event that do not agree, for the treasurer. */
export interface NoteToWrite {
  kind: string;
  detail: object;
}

/**
 * Records a receipt in one statement, with what the treasurer should look at, so that it cannot be
 * half done. Returns its number.
 */
export async function writeReceipt(
  db: Database | Transaction,
  receipt: ReceiptToWrite,
  notes: readonly NoteToWrite[] = [],
): Promise<number> {
  const rows = await db.$queryRaw<{ number: number }[]>`/* keep: record-receipt */
    WITH recorded AS MATERIALIZED (SELECT record_receipt(${JSON.stringify(receipt)}::jsonb) AS number),
    kept AS (
      INSERT INTO discrepancy (sale_id, kind, receipt_id, detail, by_id)
      SELECT ${receipt.saleId}::uuid, n.kind, ${receipt.id}::uuid, n.detail, ${receipt.cashierId}::uuid
      FROM recorded, jsonb_to_recordset(${JSON.stringify(notes)}::jsonb) AS n(kind text, detail jsonb))
    SELECT number FROM recorded`;
  return rows[0]!.number;
}
