import type { Database } from "./client.ts";

export interface DiscrepancyRead {
  id: string;
  kind: string;
  receiptId: string | null;
  detail: unknown;
  at: string;
}

/** What two accounts of one event disagree about, newest first. */
export async function listDiscrepancies(
  db: Database,
  saleId: string,
  page: { after?: string; limit: number },
): Promise<{ items: DiscrepancyRead[]; next: string | null }> {
  const after = /^\d{1,18}$/.test(page.after ?? "") ? BigInt(page.after!) : undefined;
  const rows = await db.discrepancy.findMany({
    where: { saleId, ...(after === undefined ? {} : { id: { lt: after } }) },
    orderBy: { id: "desc" },
    take: page.limit + 1,
  });
  const items = rows.slice(0, page.limit).map((row) => ({
    id: String(row.id),
    kind: row.kind,
    receiptId: row.receiptId,
    detail: row.detail,
    at: row.at.toISOString(),
  }));
  return { items, next: rows.length > page.limit ? (items.at(-1)?.id ?? null) : null };
}
