import type { Mark } from "../rules/shifts/shift-words.ts";
import type { Database } from "./client.ts";

/** A member's own shift, with the sale it belongs to. */
export interface OwnShift {
  id: string;
  saleId: string;
  saleName: string;
  task: string;
  standIn: string;
  startsAt: Date;
  minutes: number;
  mark: Mark | null;
  minutesWorked: number | null;
}

export interface OwnHours {
  saleId: string;
  saleName: string;
  shifts: number;
  minutesWorked: number;
}

/** The shifts of one member in all sales, the latest first. */
export async function listOwnShifts(
  db: Database,
  memberId: string,
  { after, limit }: { after?: string | undefined; limit: number },
): Promise<{ items: OwnShift[]; next: string | null }> {
  const rows = await db.shift.findMany({
    where: { memberId, withdrawnAt: null },
    include: { sale: { select: { name: true } } },
    orderBy: [{ startsAt: "desc" }, { id: "desc" }],
    take: limit + 1,
    // A cursor that is not this member's finds nothing, and so tells nothing.
    ...(after ? { cursor: { id: after }, skip: 1 } : {}),
  });
  const items = rows.slice(0, limit).map(({ sale, mark, ...row }) => ({
    ...{ id: row.id, saleId: row.saleId, saleName: sale.name, task: row.task },
    ...{ standIn: row.standIn, startsAt: row.startsAt, minutes: row.minutes },
    ...{ mark: mark as Mark | null, minutesWorked: row.minutesWorked },
  }));
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

/** The hours of one member by sale, the newest sale first. */
export const ownHours = (db: Database, memberId: string): Promise<OwnHours[]> =>
  db.$queryRaw<OwnHours[]>`
    SELECT s.id AS "saleId", s.name AS "saleName", count(*)::int AS shifts,
      coalesce(sum(h.minutes_worked), 0)::int AS "minutesWorked"
    FROM shift h JOIN sale s ON s.id = h.sale_id
    WHERE h.member_id = ${memberId}::uuid AND h.withdrawn_at IS NULL
    GROUP BY s.id ORDER BY s.first_day DESC, s.id DESC`;
