import type { LineKind } from "../rules/line-kind.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import type { ComponentTax } from "../rules/tax/tax-of.ts";
import type { TenderKind } from "../rules/tender.ts";
import type { Database, Transaction } from "./client.ts";
import { piecesBack } from "./pieces-back.ts";

export interface ReceiptLineRead {
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
  /** The part of the tax that the price holds; 0 where it came on top. */
  taxInside: number;
  taxKind: string;
  donated: boolean;
  /** Nobody's yet: its money waits in suspense. */
  suspended: boolean;
  priceReason: string;
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
  /** What cash rounding added to the tenders, or took off them. */
  rounding: number;
  exemption: string;
  /** Its number was given by a device, and so are those of whatever takes it back there. */
  onDevice: boolean;
  reason: string;
  cashier: string;
  /** When the server recorded it, and when the till made it by its own clock. */
  at: string;
  madeAt: string;
  /** Whether the till has been cashed up since: then it is too late for a void. */
  sessionOpen: boolean;
  lines: ReceiptLineRead[];
  tenders: { kind: TenderKind | "exchange"; amount: number; reference: string }[];
  /** By component; of a sale also what has not gone back yet. */
  taxes: (ComponentTax & { left: number; baseLeft: number })[];
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
      'change', r.change, 'rounding', r.rounding, 'exemption', r.exemption, 'reason', r.reason,
      'onDevice', EXISTS (SELECT 1 FROM till_device v WHERE v.till_id = t.id), 'cashier', m.name, 'at', r.at, 'madeAt', r.made_at,
      'sessionOpen', o.closed_at IS NULL,
      'reverses', (SELECT json_build_object('id', e.id, 'till', u.number, 'number', e.number)
        FROM receipt e JOIN till u ON u.id = e.till_id WHERE e.id = r.reverses_id),
      'reversedBy', (SELECT coalesce(json_agg(json_build_object('id', b.id, 'till', u.number,
          'number', b.number, 'kind', b.kind) ORDER BY b.at, b.id), '[]')
        FROM receipt b JOIN till u ON u.id = b.till_id WHERE b.reverses_id = r.id),
      'lines', (SELECT json_agg(json_build_object('id', l.id, 'position', l.position, 'kind', l.kind,
          'itemId', l.item_id, 'goodsId', l.goods_id, 'memberId', l.member_id, 'tag', l.tag, 'description', l.description,
          'quantity', l.quantity, 'unitPrice', l.unit_price, 'discount', l.discount, 'amount', l.amount,
          'tax', l.tax, 'taxInside', l.tax_inside, 'taxKind', l.tax_kind, 'donated', l.donated,
          'suspended', l.suspended, 'priceReason', l.price_reason, 'returned', ${piecesBack}) ORDER BY l.position)
        FROM receipt_line l WHERE l.receipt_id = r.id),
      'tenders', (SELECT json_agg(json_build_object('kind', d.kind, 'amount', d.amount,
          'reference', d.reference) ORDER BY d.id)
        FROM receipt_tender d WHERE d.receipt_id = r.id),
      'taxes', (SELECT coalesce(json_agg(json_build_object('code', x.code, 'name', x.name, 'rate', x.rate,
          'base', x.base, 'tax', x.tax, 'left', x.tax + back.tax, 'baseLeft', x.base + back.base) ORDER BY x.code), '[]')
        FROM receipt_tax x CROSS JOIN LATERAL (
          SELECT coalesce(sum(y.tax), 0) AS tax, coalesce(sum(y.base), 0) AS base
          FROM receipt b JOIN receipt_tax y ON y.receipt_id = b.id
          WHERE b.reverses_id = r.id AND y.code = x.code) back
        WHERE x.receipt_id = r.id)) AS receipt
    FROM receipt r JOIN till t ON t.id = r.till_id JOIN till_session o ON o.id = r.till_session_id
      JOIN member m ON m.id = r.cashier_id
    WHERE r.id = ${id}::uuid`;
  const row = rows[0]?.receipt;
  return row && shown(row);
}

const shown = (row: Row): ReceiptRead => ({
  ...row,
  at: new Date(row.at).toISOString(),
  madeAt: new Date(row.madeAt).toISOString(),
  name: showReceiptNumber(row.tillNumber, row.number),
  reverses: row.reverses && named(row.reverses),
  reversedBy: row.reversedBy.map((back) => ({ ...named(back), kind: back.kind })),
});

const named = ({ id, till, number }: Reference) => ({ id, name: showReceiptNumber(till, number) });
