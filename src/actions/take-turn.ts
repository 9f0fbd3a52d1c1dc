import type { Database } from "../database/client.ts";

/** What tries are counted by: an account, a device, a source address. */
export interface Bucket {
  name: string;
  /** Failures that pass without a wait. */
  free: number;
}

/**
 * Takes one turn at a bucket: 0, or the seconds until the next. Waits double from 1 s to 60 s. Two
 * tries of one moment may come out of order, so a free turn does not look at the clock.
 */
export async function takeTurn(db: Database, bucket: Bucket, now: Date): Promise<number> {
  const taken = await db.$queryRaw<unknown[]>`
    INSERT INTO sign_in_throttle AS t (bucket, failures, last_failed_at) VALUES (${bucket.name}, 1, ${now})
    ON CONFLICT (bucket) DO UPDATE SET last_failed_at = greatest(t.last_failed_at, ${now}::timestamptz),
      failures = CASE WHEN t.last_failed_at < ${now}::timestamptz - interval '1 hour' THEN 1 ELSE t.failures + 1 END
    WHERE t.failures < ${bucket.free}
      OR t.last_failed_at + make_interval(secs => least(60, power(2, least(t.failures - ${bucket.free}, 6)))) <= ${now}
    RETURNING 1`;
  if (taken.length > 0) return 0;
  const row = await db.signInThrottle.findUniqueOrThrow({ where: { bucket: bucket.name } });
  const wait = Math.min(60, 2 ** Math.min(row.failures - bucket.free, 6)) * 1000;
  return Math.max(1, Math.ceil((row.lastFailedAt.getTime() + wait - now.getTime()) / 1000));
}

/** Gives one turn back: it was no failure. */
export const giveTurnBack = (db: Database, { name }: Pick<Bucket, "name">): Promise<number> =>
  db.$executeRaw`
    UPDATE sign_in_throttle SET failures = failures - 1 WHERE bucket = ${name} AND failures > 0`;
