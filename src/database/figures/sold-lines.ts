import { showReceiptNumber } from "../../rules/receipt-number.ts";
import type { Database } from "../client.ts";
import { Prisma } from "../generated/client.ts";
import { anywhere } from "../search.ts";
import { kindKey, kindName } from "./kind-of-line.ts";

export interface SoldLine {
  id: string;
  receiptId: string;
  receipt: string;
  at: Date;
  tag: string;
  description: string;
  kind: string;
  quantity: number;
  amount: number;
  tax: number;
}

export interface LineFilter {
  saleId: string;
  /** A kind of goods by its key in the takings. */
  kind?: string | undefined;
  /** Words of the description, or a tag number. */
  q?: string | undefined;
}

const from = Prisma.sql`receipt r JOIN till t ON t.id = r.till_id JOIN receipt_line l ON l.receipt_id = r.id
  LEFT JOIN identified n ON n.line_id = l.id LEFT JOIN item i ON i.id = coalesce(n.item_id, l.item_id)
  LEFT JOIN kind k ON k.id = i.kind_id`;

const wanted = ({ saleId, kind = "", q = "" }: LineFilter) => Prisma.sql`r.sale_id = ${saleId}::uuid
  AND (${kind} = '' OR ${kindKey} = ${kind})
  AND (${q} = '' OR l.description ILIKE ${anywhere(q)} OR l.tag = ${q.replace(/[\s-]/g, "")})`;

type Row = Omit<SoldLine, "receipt" | "amount" | "tax"> & {
  tillNumber: number;
  number: number;
  amount: bigint;
  tax: bigint;
};

/** Lines of the receipts of a sale, the newest first, a page at a time. */
export async function listSoldLines(
  db: Database,
  filter: LineFilter,
  { after, limit }: { after?: string | undefined; limit: number },
): Promise<{ items: SoldLine[]; next: string | null }> {
  const before = after ? Prisma.sql`AND l.id < ${after}::uuid` : Prisma.empty;
  const rows = await db.$queryRaw<Row[]>`
    SELECT l.id, r.id AS "receiptId", t.number AS "tillNumber", r.number, r.made_at AS at, l.tag, l.description,
      ${kindName} AS kind, l.quantity, l.amount, l.tax
    FROM ${from} WHERE ${wanted(filter)} ${before} ORDER BY l.id DESC LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map(({ tillNumber, number, ...row }) => ({
    ...row,
    receipt: showReceiptNumber(tillNumber, number),
    amount: Number(row.amount),
    tax: Number(row.tax),
  }));
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

/** What all lines of the list come to, not only those of one page. */
export async function sumSoldLines(db: Database, filter: LineFilter) {
  const [row] = await db.$queryRaw<[{ pieces: bigint; amount: bigint; tax: bigint }]>`
    SELECT coalesce(sum(l.quantity), 0) AS pieces, coalesce(sum(l.amount), 0)::bigint AS amount,
      coalesce(sum(l.tax), 0)::bigint AS tax
    FROM ${from} WHERE ${wanted(filter)}`;
  return { pieces: Number(row.pieces), amount: Number(row.amount), tax: Number(row.tax) };
}
