import type { Transaction } from "./client.ts";

/** A list of entries that came together, with how its pieces stand now. */
export interface ShownList {
  id: string;
  memberId: string;
  memberNumber: number;
  saleId: string;
  saleName: string;
  source: "spreadsheet" | "unsold";
  enteredAt: string;
  leftOut: number;
  pieces: number;
  /** Neither withdrawn nor taken in at the desk. */
  asEntered: number;
  withdrawn: number;
  /** Withdrawn together with the list. */
  takenBack: number;
}

/** A member's lists, the newest first; `after` is the last list of the page before. */
export async function listItemLists(
  db: Transaction,
  { memberId, saleId }: { memberId: string; saleId?: string | undefined },
  page: { after?: string | undefined; limit: number },
) {
  const found = await db.itemList.findMany({
    where: {
      memberId,
      ...(saleId ? { saleId } : {}),
      ...(page.after ? { id: { lt: page.after } } : {}),
    },
    orderBy: { id: "desc" },
    take: page.limit + 1,
    select: { id: true },
  });
  const ids = found.slice(0, page.limit).map(({ id }) => id);
  const items = await shownLists(db, ids);
  return { items, next: found.length > page.limit ? (ids.at(-1) ?? null) : null };
}

export const findItemList = async (db: Transaction, id: string): Promise<ShownList | undefined> =>
  (await shownLists(db, [id]))[0];

async function shownLists(db: Transaction, ids: string[]): Promise<ShownList[]> {
  const rows = await db.$queryRaw<(Omit<ShownList, "enteredAt"> & { enteredAt: Date })[]>`
    SELECT l.id, l.member_id AS "memberId", m.number AS "memberNumber", l.sale_id AS "saleId",
      s.name AS "saleName", l.source, l.entered_at AS "enteredAt", l.left_out AS "leftOut",
      count(*)::integer AS pieces,
      count(*) FILTER (WHERE i.withdrawn_at IS NULL AND c.with_member = c.entered AND NOT EXISTS
        (SELECT 1 FROM movement v WHERE v.item_id = i.id AND v.kind = 'checked-in'))::integer
        AS "asEntered",
      count(*) FILTER (WHERE i.withdrawn_at IS NOT NULL)::integer AS withdrawn,
      count(*) FILTER (WHERE i.withdrawn_at = p.taken_back_at)::integer AS "takenBack"
    FROM item_list l JOIN member m ON m.id = l.member_id JOIN sale s ON s.id = l.sale_id
      JOIN item_list_piece p ON p.list_id = l.id JOIN item i ON i.id = p.item_id
      JOIN item_count c ON c.item_id = i.id
    WHERE l.id = ANY(${ids}::uuid[])
    GROUP BY l.id, m.number, s.name ORDER BY l.id DESC`;
  return rows.map((row) => ({ ...row, enteredAt: row.enteredAt.toISOString() }));
}
