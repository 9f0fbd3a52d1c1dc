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
    // Whosever shift the cursor names, it only says where to begin: the rows are this member's.
    ...(after ? { cursor: { id: after }, skip: 1 } : {}),
  });
  const items = rows.slice(0, limit).map(ownShift);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

/** What a member has still to come to, or is at just now, the next first. */
export async function nextShifts(db: Database, memberId: string, now: Date): Promise<OwnShift[]> {
  const rows = await db.shift.findMany({
    // One that began yesterday evening may still go on.
    where: { memberId, withdrawnAt: null, mark: null, startsAt: { gt: hoursBefore(now, 16) } },
    include: { sale: { select: { name: true } } },
    orderBy: [{ startsAt: "asc" }, { id: "asc" }],
    take: 10,
  });
  const ends = (row: (typeof rows)[number]) => row.startsAt.getTime() + row.minutes * 60_000;
  return rows
    .filter((row) => ends(row) > now.getTime())
    .slice(0, 3)
    .map(ownShift);
}

const hoursBefore = (at: Date, hours: number): Date => new Date(at.getTime() - hours * 3_600_000);

type Row = Omit<OwnShift, "saleName" | "mark"> & { mark: string | null; sale: { name: string } };

const ownShift = ({ sale, mark, ...row }: Row): OwnShift => ({
  ...{ id: row.id, saleId: row.saleId, saleName: sale.name, task: row.task },
  ...{ standIn: row.standIn, startsAt: row.startsAt, minutes: row.minutes },
  ...{ mark: mark as Mark | null, minutesWorked: row.minutesWorked },
});

/** The hours of one member by sale, the newest sale first. */
export const ownHours = (db: Database, memberId: string): Promise<OwnHours[]> =>
  db.$queryRaw<OwnHours[]>`
    SELECT s.id AS "saleId", s.name AS "saleName", count(*)::int AS shifts,
      coalesce(sum(h.minutes_worked), 0)::int AS "minutesWorked"
    FROM shift h JOIN sale s ON s.id = h.sale_id
    WHERE h.member_id = ${memberId}::uuid AND h.withdrawn_at IS NULL
    GROUP BY s.id ORDER BY s.first_day DESC, s.id DESC`;
