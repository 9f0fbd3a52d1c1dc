import { readReceiptNumber, showReceiptNumber } from "../rules/receipt-number.ts";
import { readTag } from "../rules/tag-number.ts";
import type { Database } from "./client.ts";

/** A receipt as it stands in a list. */
export interface ReceiptInList {
  id: string;
  name: string;
  tillId: string;
  kind: "sale" | "return" | "void";
  total: number;
  /** What was paid with cash rounding in it; of the asked-for tender alone, when one was asked for. */
  paid: number;
  pieces: number;
  cashier: string;
  at: string;
  /** The sale was called off later. */
  calledOff: boolean;
}

export interface ReceiptFilter {
  saleId: string;
  tillId?: string;
  /** A receipt number ("2-17" or "17") or a tag number. */
  q?: string;
  tillNumber?: number;
  tender?: string;
  /** Made from this moment on, and before that one. */
  madeFrom?: Date;
  madeBefore?: Date;
}

/** Newest first; the cursor names the last receipt seen, so that new ones never shift a page. */
export async function listReceipts(
  db: Database,
  filter: ReceiptFilter,
  page: { after?: string; limit: number },
): Promise<{ items: ReceiptInList[]; next: string | null }> {
  const rows = await db.receipt.findMany({
    where: { AND: [scope(filter), searched(filter.q), beyond(page.after)] },
    include: {
      till: { select: { number: true } },
      lines: { select: { quantity: true } },
      tenders: { where: tenderOf(filter), select: { amount: true } },
      reversedBy: { where: { kind: "void" }, select: { id: true } },
    },
    orderBy: [{ at: "desc" }, { id: "desc" }],
    take: page.limit + 1,
  });
  const cashiers = await namesOf(db, [...new Set(rows.map(({ cashierId }) => cashierId))]);
  const shown = rows.slice(0, page.limit);
  const last = shown.at(-1);
  return {
    items: shown.map((row) => ({
      id: row.id,
      name: showReceiptNumber(row.till.number, row.number),
      tillId: row.tillId,
      kind: row.kind as ReceiptInList["kind"],
      total: Number(row.total),
      paid: row.tenders.reduce((sum, { amount }) => sum + Number(amount), 0),
      pieces: row.lines.reduce((sum, { quantity }) => sum + quantity, 0),
      cashier: cashiers.get(row.cashierId) ?? "",
      at: row.at.toISOString(),
      calledOff: row.reversedBy.length > 0,
    })),
    next: last && rows.length > page.limit ? `${last.at.toISOString()}_${last.id}` : null,
  };
}

/** What all receipts of a list were paid with together, not only those of one page. */
export async function sumReceipts(db: Database, filter: ReceiptFilter): Promise<number> {
  const receipt = { AND: [scope(filter), searched(filter.q)] };
  const where = { receipt, ...tenderOf(filter) };
  const found = await db.receiptTender.aggregate({ where, _sum: { amount: true } });
  return Number(found._sum.amount ?? 0n);
}

const tenderOf = ({ tender }: ReceiptFilter) => (tender ? { kind: tender } : {});

async function namesOf(db: Database, ids: string[]): Promise<Map<string, string>> {
  const members = await db.member.findMany({
    where: { id: { in: ids } },
    select: { id: true, name: true },
  });
  return new Map(members.map(({ id, name }) => [id, name]));
}

const scope = ({ saleId, tillId, tillNumber, tender, madeFrom, madeBefore }: ReceiptFilter) => ({
  saleId,
  ...(tillId ? { tillId } : {}),
  ...(tillNumber === undefined ? {} : { till: { number: tillNumber } }),
  ...(tender ? { tenders: { some: { kind: tender } } } : {}),
  ...(madeFrom && madeBefore ? { madeAt: { gte: madeFrom, lt: madeBefore } } : {}),
});

const nothing = { number: -1 };

function searched(text: string | undefined) {
  if (!text) return {};
  const receipt = readReceiptNumber(text);
  if (receipt) return { number: receipt.number, till: { number: receipt.tillNumber } };
  const tag = readTag(text, [8, 10]);
  if (tag.ok) return { lines: { some: { tag: tag.value } } };
  return /^\d{1,7}$/.test(text) ? { number: Number(text) } : nothing;
}

function beyond(after: string | undefined) {
  const [, time, id] =
    /^(\d{4}-\d\d-\d\dT[\d:.]+Z)_([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})$/.exec(
      after ?? "",
    ) ?? [];
  const at = new Date(time ?? "");
  if (!id || Number.isNaN(at.getTime())) return {};
  return { OR: [{ at: { lt: at } }, { at, id: { lt: id } }] };
}
