import { dayIn } from "../rules/day.ts";
import { daysBetween, reminderDue } from "../rules/paying/unclaimed.ts";
import type { Database, Transaction } from "./client.ts";
import { anywhere } from "./search.ts";

/** Money that is due to a member and not recorded as paid, however old. */
export interface Unclaimed {
  statementId: string;
  statementNumber: number;
  memberId: string;
  memberNumber: number;
  memberName: string;
  postalLine: string;
  saleName: string;
  amount: number;
  owedSince: Date;
  /** The paying run that it waits in, if any. */
  runId: string | null;
  runNumber: number | null;
  /** When the member was reminded, the first time first. */
  reminded: Date[];
}

export interface UnclaimedList {
  id?: string | undefined;
  q?: string | undefined;
  /** The last statement number of the page before. */
  after?: number | undefined;
  limit: number;
}

/** What waits, the oldest first: statement numbers run on with time. */
export async function listUnclaimed(
  db: Database | Transaction,
  { id, q = "", after = 0, limit }: UnclaimedList,
): Promise<{ items: Unclaimed[]; next: number | null }> {
  const rows = await db.$queryRaw<(Omit<Unclaimed, "amount"> & { amount: bigint })[]>`
    SELECT s.id AS "statementId", s.number AS "statementNumber", m.id AS "memberId",
      m.number AS "memberNumber", m.name AS "memberName", m.postal_line AS "postalLine",
      a.name AS "saleName", s.due AS amount, e.at AS "owedSince", r.id AS "runId", r.number AS "runNumber",
      ARRAY(SELECT n.at FROM reminder n WHERE n.statement_id = s.id ORDER BY n.number) AS reminded
    FROM statement s JOIN settlement e ON e.id = s.settlement_id JOIN sale a ON a.id = e.sale_id
    JOIN member m ON m.id = s.member_id
    LEFT JOIN paying_run_item i ON i.statement_id = s.id AND i.outcome IS NULL
    LEFT JOIN paying_run r ON r.id = i.run_id
    WHERE s.due > 0 AND s.number > ${after}
      AND (${id ?? null}::uuid IS NULL OR s.id = ${id ?? null}::uuid)
      AND (${q} = '' OR m.number::text = ${q} OR s.number::text = ${q} OR m.name ILIKE ${anywhere(q)})
      AND NOT EXISTS (SELECT 1 FROM payout p WHERE p.statement_id = s.id
        AND NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id))
    ORDER BY s.number LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map((row) => ({ ...row, amount: Number(row.amount) }));
  return { items, next: rows.length > limit ? (items.at(-1)?.statementNumber ?? null) : null };
}

/** How many statements wait, and how much they come to together. */
export async function sumOfUnclaimed(db: Database): Promise<{ count: number; amount: number }> {
  const [row] = await db.$queryRaw<[{ count: bigint; amount: bigint }]>`
    SELECT count(*) AS count, coalesce(sum(s.due), 0)::bigint AS amount FROM statement s
    WHERE s.due > 0 AND NOT EXISTS (SELECT 1 FROM payout p WHERE p.statement_id = s.id
      AND NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id))`;
  return { count: Number(row.count), amount: Number(row.amount) };
}

/** The same with how many days each has waited and the reminder that it is due for, if any. */
export async function ageUnclaimed(db: Database, search: UnclaimedList, now: Date) {
  const { items, next } = await listUnclaimed(db, search);
  const { timeZone } = await db.guild.findFirstOrThrow();
  const { remindFirst: first, remindAgain: again } = await db.payingSetting.findFirstOrThrow();
  const at = now.toISOString();
  const aged = items.map((one) => {
    const owedSince = one.owedSince.toISOString();
    const reminded = one.reminded.map((moment) => moment.toISOString());
    const payable = { memberId: one.memberId, amount: one.amount, owedSince, reminded };
    const due = reminderDue(payable, at, timeZone, { first, again });
    return { ...one, days: daysBetween(owedSince, at, timeZone), reminderDue: due };
  });
  return { items: aged, next, plan: { first, again } };
}

/** What a letter to the member says, with the guild that writes it; undefined when nothing waits. */
export async function letterFacts(db: Database, statementId: string, now: Date) {
  const [waits] = (await listUnclaimed(db, { id: statementId, limit: 1 })).items;
  if (!waits) return undefined;
  const guild = await db.guild.findFirstOrThrow();
  const owedSince = dayIn(waits.owedSince, guild.timeZone);
  return { waiting: { ...waits, owedSince, today: dayIn(now, guild.timeZone) }, guild };
}
