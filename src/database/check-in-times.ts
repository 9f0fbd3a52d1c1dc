import type { Database } from "./client.ts";
import { anywhere } from "./search.ts";

export interface CheckInTimeRead {
  id: string;
  saleId: string;
  startsAt: Date;
  minutes: number;
  places: number;
  taken: number;
  mine: boolean;
  version: number;
}

export interface TimeSearch {
  /** Whose choice counts as "mine". */
  memberId: string;
  /** Only what begins after it. */
  from?: Date | undefined;
  /** Only times that a member of this name or number has picked. */
  q?: string | undefined;
  /** The id of the last time seen. */
  after?: string | undefined;
  limit: number;
}

/** The check-in times of a sale that stand, by day and time, with how many members have each. */
export async function listCheckInTimes(db: Database, saleId: string, search: TimeSearch) {
  const { memberId, from = null, q = "", after = null, limit } = search;
  const number = /^\d{1,4}$/.test(q) ? Number(q) : 0;
  const rows = await db.$queryRaw<CheckInTimeRead[]>`
    SELECT t.id, t.sale_id AS "saleId", t.starts_at AS "startsAt", t.minutes, t.places, t.version,
      (SELECT count(*)::integer FROM check_in_choice c WHERE c.time_id = t.id) AS taken,
      EXISTS (SELECT 1 FROM check_in_choice c WHERE c.time_id = t.id AND c.member_id = ${memberId}::uuid) AS mine
    FROM check_in_time t
    WHERE t.sale_id = ${saleId}::uuid AND t.withdrawn_at IS NULL
      AND (${from}::timestamptz IS NULL OR t.starts_at > ${from}::timestamptz)
      AND (${q} = '' OR EXISTS (SELECT 1 FROM check_in_choice c JOIN member m ON m.id = c.member_id
        WHERE c.time_id = t.id AND (m.number = ${number} OR m.name ILIKE ${anywhere(q)})))
      AND (${after}::uuid IS NULL
        OR (t.starts_at, t.id) > (SELECT starts_at, id FROM check_in_time WHERE id = ${after}::uuid))
    ORDER BY t.starts_at, t.id LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

export interface ComingMember {
  timeId: string;
  number: number;
  name: string;
  /** How many pieces the member has entered. */
  pieces: number;
}

/** Who comes at some times, by number. */
export const membersAt = (db: Database, timeIds: readonly string[]): Promise<ComingMember[]> =>
  db.$queryRaw<ComingMember[]>`
    SELECT c.time_id AS "timeId", m.number, m.name,
      (SELECT coalesce(sum(i.quantity), 0)::integer FROM item i
        WHERE i.member_id = m.id AND i.sale_id = c.sale_id AND i.withdrawn_at IS NULL) AS pieces
    FROM check_in_choice c JOIN member m ON m.id = c.member_id
    WHERE c.time_id = ANY(${[...timeIds]}::uuid[]) ORDER BY m.number`;

/** How many times and places a sale has, and how many are taken. */
export async function checkInCounts(db: Database, saleId: string) {
  const where = { saleId, withdrawnAt: null };
  const sums = await db.checkInTime.aggregate({ where, _sum: { places: true }, _count: true });
  const taken = await db.checkInChoice.count({ where: { saleId } });
  return { times: sums._count, places: sums._sum.places ?? 0, taken };
}

/** One time that stands, as nobody in particular sees it. */
export async function findCheckInTime(db: Database, id: string) {
  const row = await db.checkInTime.findFirst({
    where: { id, withdrawnAt: null },
    include: { _count: { select: { choices: true } } },
  });
  if (!row) return null;
  const { saleId, startsAt, minutes, places, version, _count } = row;
  return { id, saleId, startsAt, minutes, places, version, taken: _count.choices };
}

/** The time that a member has picked for a sale. */
export async function pickedTime(db: Database, which: { saleId: string; memberId: string }) {
  const choice = await db.checkInChoice.findUnique({
    where: { saleId_memberId: which },
    include: { time: true },
  });
  return choice?.time ?? null;
}
