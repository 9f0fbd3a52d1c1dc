import type { PreparedRun, RunHeading, RunItem, RunOutcome } from "../rules/paying/run.ts";
import type { PayoutMethod } from "../rules/statement.ts";
import type { Database } from "./client.ts";
import { anywhere } from "./search.ts";

export interface RunRow {
  id: string;
  number: number;
  method: PayoutMethod;
  saleId: string | null;
  day: Date;
  at: Date;
  byName: string;
  /** Those that wait or are paid; what was dropped counts no more. */
  payments: number;
  waiting: number;
  total: number;
}

/** Runs, the newest first; `q` finds their number and the people and cheques in them. */
export async function listRuns(
  db: Database,
  { q = "", before, limit }: { q?: string | undefined; before?: number | undefined; limit: number },
): Promise<{ items: RunRow[]; next: string | null }> {
  const rows = await db.$queryRaw<(Omit<RunRow, "total"> & { total: bigint })[]>`
    SELECT r.id, r.number, r.method, r.sale_id AS "saleId", r.day, r.at, m.name AS "byName",
      (count(*) FILTER (WHERE i.outcome IS DISTINCT FROM 'dropped'))::int AS payments, (count(*) FILTER (WHERE i.outcome IS NULL))::int AS waiting,
      coalesce(sum(i.amount) FILTER (WHERE i.outcome IS DISTINCT FROM 'dropped'), 0)::bigint AS total
    FROM paying_run r JOIN member m ON m.id = r.by_id JOIN paying_run_item i ON i.run_id = r.id
    WHERE r.number < ${before ?? 2_147_483_647}
      AND (${q} = '' OR r.number::text = ${q} OR EXISTS (SELECT 1 FROM paying_run_item f WHERE f.run_id = r.id
        AND (f.payee ILIKE ${anywhere(q)} OR f.reference = ${q} OR f.member_number::text = ${q})))
    GROUP BY r.id, m.id ORDER BY r.number DESC LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map((row) => ({ ...row, total: Number(row.total) }));
  return { items, next: rows.length > limit ? String(items.at(-1)?.number) : null };
}

/** A run with everything in it, from its frozen rows. */
export async function findRun(db: Database, id: string): Promise<PreparedRun | undefined> {
  const run = await db.payingRun.findUnique({
    where: { id },
    include: {
      items: {
        include: {
          statement: { select: { number: true, memberId: true } },
          payout: { include: { voided: true } },
        },
        orderBy: { position: "asc" },
      },
    },
  });
  if (!run) return undefined;
  const ids = [run.byId, ...run.items.flatMap(({ endedById }) => endedById ?? [])];
  const people = await db.member.findMany({ where: { id: { in: ids } } });
  const names = new Map(people.map((one) => [one.id, one.name]));
  const { items, heading, method, byId, day, firstCheque: _inItems, ...rest } = run;
  return {
    ...rest,
    method: method as PayoutMethod,
    day: day.toISOString().slice(0, 10),
    heading: heading as unknown as RunHeading,
    byName: names.get(byId) ?? "",
    items: items.map(
      ({ runId: _same, statement, payout, endedById, outcome, ...item }): RunItem => ({
        ...item,
        statementNumber: statement.number,
        memberId: statement.memberId,
        amount: Number(item.amount),
        outcome: outcome as RunOutcome | null,
        voided: Boolean(payout?.voided),
        endedBy: names.get(endedById ?? "") ?? "",
      }),
    ),
  };
}
