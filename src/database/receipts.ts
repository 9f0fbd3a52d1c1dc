import { showReceiptNumber } from "../rules/receipt-number.ts";
import type { TenderKind } from "../rules/tender.ts";
import type { Database, Transaction } from "./client.ts";

export interface ReceiptLineRead {
  id: string;
  position: number;
  itemId: string;
  memberId: string;
  tag: string;
  description: string;
  quantity: number;
  unitPrice: number;
  amount: number;
  tax: number;
  donated: boolean;
  /** How many pieces of this line have come back since. */
  returned: number;
}

/** A receipt as it was recorded, with what happened to it later. Times are ISO texts. */
export interface ReceiptRead {
  id: string;
  saleId: string;
  tillId: string;
  tillSessionId: string;
  tillNumber: number;
  number: number;
  /** "2-0017", as it stands on the paper. */
  name: string;
  kind: "sale" | "return" | "void";
  reverses: { id: string; name: string } | null;
  /** Voids and returns of this receipt. */
  reversedBy: { id: string; name: string; kind: "return" | "void" }[];
  subtotal: number;
  tax: number;
  total: number;
  cashGiven: number;
  change: number;
  reason: string;
  cashier: string;
  at: string;
  /** Whether the till has been cashed up since: then it is too late for a void. */
  sessionOpen: boolean;
  lines: ReceiptLineRead[];
  tenders: { kind: TenderKind; amount: number; reference: string }[];
}

type Row = Omit<ReceiptRead, "name" | "reverses" | "reversedBy"> & {
  reverses: Reference | null;
  reversedBy: (Reference & { kind: "return" | "void" })[];
};

interface Reference {
  id: string;
  till: number;
  number: number;
}

/** One receipt whole, from one reading; undefined when there is none. */
export async function readReceipt(
  db: Database | Transaction,
  id: string,
): Promise<ReceiptRead | undefined> {
  const rows = await db.$queryRaw<{ receipt: Row }[]>`
    SELECT json_build_object('id', r.id, 'saleId', r.sale_id, 'tillId', r.till_id,
      'tillSessionId', r.till_session_id, 'tillNumber', t.number, 'number', r.number, 'kind', r.kind,
      'subtotal', r.subtotal, 'tax', r.tax, 'total', r.total, 'cashGiven', r.cash_given,
      'change', r.change, 'reason', r.reason, 'cashier', m.name, 'at', r.at,
      'sessionOpen', o.closed_at IS NULL,
      'reverses', (SELECT json_build_object('id', e.id, 'till', u.number, 'number', e.number)
        FROM receipt e JOIN till u ON u.id = e.till_id WHERE e.id = r.reverses_id),
      'reversedBy', (SELECT coalesce(json_agg(json_build_object('id', b.id, 'till', u.number,
          'number', b.number, 'kind', b.kind) ORDER BY b.at, b.id), '[]')
        FROM receipt b JOIN till u ON u.id = b.till_id WHERE b.reverses_id = r.id),
      'lines', (SELECT json_agg(json_build_object('id', l.id, 'position', l.position,
          'itemId', l.item_id, 'memberId', l.member_id, 'tag', l.tag, 'description', l.description,
          'quantity', l.quantity, 'unitPrice', l.unit_price, 'amount', l.amount, 'tax', l.tax,
          'donated', l.donated, 'returned', (SELECT coalesce(-sum(b.quantity), 0)
            FROM receipt_line b WHERE b.reverses_line_id = l.id)) ORDER BY l.position)
        FROM receipt_line l WHERE l.receipt_id = r.id),
      'tenders', (SELECT json_agg(json_build_object('kind', d.kind, 'amount', d.amount,
          'reference', d.reference) ORDER BY d.id)
        FROM receipt_tender d WHERE d.receipt_id = r.id)) AS receipt
    FROM receipt r JOIN till t ON t.id = r.till_id JOIN till_session o ON o.id = r.till_session_id
      JOIN member m ON m.id = r.cashier_id
    WHERE r.id = ${id}::uuid`;
  const row = rows[0]?.receipt;
  return row && shown(row);
}

const shown = (row: Row): ReceiptRead => ({
  ...row,
  at: new Date(row.at).toISOString(),
  name: showReceiptNumber(row.tillNumber, row.number),
  reverses: row.reverses && named(row.reverses),
  reversedBy: row.reversedBy.map((back) => ({ ...named(back), kind: back.kind })),
});

const named = ({ id, till, number }: Reference) => ({ id, name: showReceiptNumber(till, number) });
