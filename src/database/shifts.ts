import type { Mark } from "../rules/shifts/shift-words.ts";
import type { Database, Transaction } from "./client.ts";
import { anywhere } from "./search.ts";

/** A shift that stands; withdrawn ones are only in the audit list. */
export interface ShiftRead {
  id: string;
  saleId: string;
  memberId: string;
  memberNumber: number;
  memberName: string;
  task: string;
  standIn: string;
  startsAt: Date;
  minutes: number;
  mark: Mark | null;
  minutesWorked: number | null;
  /** Who ticked it; empty while nobody has. */
  markedBy: string;
  markedAt: Date | null;
  version: number;
}

export interface ShiftSearch {
  q?: string | undefined;
  /** Only what goes on between two instants. */
  between?: { from: string; until: string } | undefined;
  /** Only what nobody has ticked yet. */
  open?: boolean | undefined;
  /** The id of the last shift seen. */
  after?: string | undefined;
  limit: number;
}

/** Shifts of a sale by day and time. Finds parts of names, tasks and stand-ins, and whole numbers. */
export async function listShifts(db: Database, saleId: string, search: ShiftSearch) {
  const { q = "", between, open = false, after = null, limit } = search;
  const number = /^\d{1,4}$/.test(q) ? Number(q) : 0;
  const [from, until] = [between?.from ?? null, between?.until ?? null];
  const rows = await db.$queryRaw<ShiftRead[]>`
    SELECT h.id, h.sale_id AS "saleId", h.member_id AS "memberId", m.number AS "memberNumber", m.name AS "memberName",
      h.task, h.stand_in AS "standIn", h.starts_at AS "startsAt", h.minutes, h.mark,
      h.minutes_worked AS "minutesWorked", coalesce(b.name, '') AS "markedBy", h.marked_at AS "markedAt", h.version
    FROM shift h JOIN member m ON m.id = h.member_id LEFT JOIN member b ON b.id = h.marked_by_id
    WHERE h.sale_id = ${saleId}::uuid AND h.withdrawn_at IS NULL
      AND (${from}::timestamptz IS NULL
        OR (h.starts_at < ${until}::timestamptz AND h.starts_at + h.minutes * interval '1 minute' > ${from}::timestamptz))
      AND (NOT ${open} OR h.mark IS NULL)
      AND (${q} = '' OR m.number = ${number} OR m.name ILIKE ${anywhere(q)} OR h.task ILIKE ${anywhere(q)}
        OR h.stand_in ILIKE ${anywhere(q)})
      AND (${after}::uuid IS NULL OR (h.starts_at, h.id) > (SELECT starts_at, id FROM shift WHERE id = ${after}::uuid))
    ORDER BY h.starts_at, h.id LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

const people = { member: { select: { number: true, name: true } } } as const;

export async function findShift(db: Database | Transaction, id: string): Promise<ShiftRead | null> {
  const row = await db.shift.findFirst({ where: { id, withdrawnAt: null }, include: people });
  if (!row) return null;
  const by = row.markedById
    ? await db.member.findUnique({ where: { id: row.markedById }, select: { name: true } })
    : null;
  const { member, mark, ...shift } = row;
  return {
    ...shift,
    memberNumber: member.number,
    memberName: member.name,
    mark: mark as Mark | null,
    markedBy: by?.name ?? "",
  };
}

/** How many shifts a sale has, and how many nobody has ticked. */
export async function shiftCounts(db: Database, saleId: string) {
  const where = { saleId, withdrawnAt: null };
  const [all, open, worked] = await Promise.all([
    db.shift.count({ where }),
    db.shift.count({ where: { ...where, mark: null } }),
    db.shift.aggregate({ where, _sum: { minutesWorked: true } }),
  ]);
  return { all, open, minutesWorked: worked._sum.minutesWorked ?? 0 };
}
