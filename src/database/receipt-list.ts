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
      pieces: row.lines.reduce((sum, { quantity }) => sum + quantity, 0),
      cashier: cashiers.get(row.cashierId) ?? "",
      at: row.at.toISOString(),
      calledOff: row.reversedBy.length > 0,
    })),
    next: last && rows.length > page.limit ? `${last.at.toISOString()}_${last.id}` : null,
  };
}

async function namesOf(db: Database, ids: string[]): Promise<Map<string, string>> {
  const members = await db.member.findMany({
    where: { id: { in: ids } },
    select: { id: true, name: true },
  });
  return new Map(members.map(({ id, name }) => [id, name]));
}

const scope = ({ saleId, tillId }: ReceiptFilter) => ({ saleId, ...(tillId ? { tillId } : {}) });

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
