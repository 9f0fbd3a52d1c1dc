import type { Database, Transaction } from "./client.ts";

/** A drawer that did not come out even, and what came of looking into it. */
export interface DrawerDifference {
  sessionId: string;
  tillNumber: number;
  counted: number;
  /** Above zero when the drawer held more than it should. */
  difference: number;
  /** Who counted, and what they wrote beside the count. */
  by: string;
  note: string;
  at: Date;
  lookedInto: { reason: string; by: string; at: Date } | null;
}

/** The differences of a sale's cash-ups, the oldest opening first; open ones alone unless told. */
export async function drawerDifferences(
  db: Database | Transaction,
  saleId: string,
  { all = false, after, limit }: { all?: boolean; after?: string | undefined; limit: number },
): Promise<{ items: DrawerDifference[]; next: string | null }> {
  const rows = await db.cashUp.findMany({
    where: {
      tillSession: { till: { saleId } },
      difference: { not: 0n },
      ...(all ? {} : { lookedInto: null }),
      ...(after ? { tillSessionId: { gt: after } } : {}),
    },
    include: { lookedInto: true, tillSession: { include: { till: true } } },
    orderBy: { tillSessionId: "asc" },
    take: limit + 1,
  });
  const shown = rows.slice(0, limit);
  const ids = shown.flatMap(({ byId, lookedInto }) => [byId, lookedInto?.byId ?? byId]);
  const people = await db.member.findMany({ where: { id: { in: ids } } });
  const nameOf = new Map(people.map(({ id, name }) => [id, name]));
  const items = shown.map(({ tillSessionId, tillSession, lookedInto, ...row }) => ({
    sessionId: tillSessionId,
    tillNumber: tillSession.till.number,
    counted: Number(row.counted),
    difference: Number(row.difference),
    by: nameOf.get(row.byId) ?? "",
    note: row.note,
    at: row.at,
    lookedInto: lookedInto && {
      reason: lookedInto.reason,
      by: nameOf.get(lookedInto.byId) ?? "",
      at: lookedInto.at,
    },
  }));
  return { items, next: rows.length > limit ? (items.at(-1)?.sessionId ?? null) : null };
}
