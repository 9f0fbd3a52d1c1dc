import type { Database, Transaction } from "./client.ts";

export interface PrintJobRead {
  id: string;
  saleId: string;
  what: "tag" | "care-strip";
  options: object;
  about: string;
  state: "waiting" | "running" | "ready" | "cancelled" | "failed";
  total: number;
  done: number;
  problem: string;
  byId: string;
  createdAt: Date;
  endedAt: Date | null;
}

export async function findPrintJob(db: Transaction, id: string): Promise<PrintJobRead | null> {
  return (await db.printJob.findUnique({ where: { id } })) as PrintJobRead | null;
}

/** The last prints that somebody asked for, newest first. */
export async function recentPrints(db: Transaction, byId: string): Promise<PrintJobRead[]> {
  const rows = await db.printJob.findMany({
    where: { byId },
    orderBy: { createdAt: "desc" },
    take: 5,
  });
  return rows as unknown as PrintJobRead[];
}

/**
 * Takes the oldest print that waits, or one whose worker has given no sign of life for a minute:
 * a restart in the middle of a file only delays it. Two workers never take the same one.
 */
export async function takePrintJob(db: Database): Promise<PrintJobRead | null> {
  const rows = await db.$queryRaw<{ id: string }[]>`
    UPDATE print_job SET state = 'running', done = 0, beat_at = now() WHERE id = (
      SELECT id FROM print_job
      WHERE state = 'waiting' OR (state = 'running' AND beat_at < now() - interval '1 minute')
      ORDER BY created_at LIMIT 1 FOR UPDATE SKIP LOCKED)
    RETURNING id`;
  return rows[0] ? findPrintJob(db, rows[0].id) : null;
}

/** Notes how far a print has come; false when it was cancelled meanwhile. */
export async function beatPrintJob(db: Database, id: string, done: number): Promise<boolean> {
  const { count } = await db.printJob.updateMany({
    where: { id, state: "running" },
    data: { done, beatAt: new Date() },
  });
  return count === 1;
}

/** Ends a print, once; false when somebody cancelled it first. */
export async function endPrintJob(
  db: Database,
  id: string,
  end: { state: "ready" | "failed"; problem?: string },
): Promise<boolean> {
  const job = await db.printJob.findUniqueOrThrow({ where: { id }, select: { total: true } });
  const { count } = await db.printJob.updateMany({
    where: { id, state: "running" },
    data: {
      ...{ state: end.state, problem: end.problem ?? "", endedAt: new Date() },
      ...(end.state === "ready" ? { done: job.total } : {}),
    },
  });
  return count === 1;
}

/** Puts a print back in the queue when its worker has to stop. */
export const leavePrintJob = (db: Database, id: string) =>
  db.printJob.updateMany({ where: { id, state: "running" }, data: { state: "waiting", done: 0 } });

/** The items of a print, as they were claimed for it. */
export async function itemsOfPrint(db: Database, jobId: string): Promise<string[]> {
  const rows = await db.tagPrint.findMany({
    where: { jobId },
    orderBy: { id: "asc" },
    select: { itemId: true },
  });
  return rows.map(({ itemId }) => itemId);
}
