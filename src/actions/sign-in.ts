import { createHash } from "node:crypto";
import type { Database } from "../database/client.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { fits } from "./passphrase.ts";

export interface SignInAttempt {
  /** An e-mail address or a member number, as typed. */
  identifier: string;
  passphrase: string;
  source: string;
  /** A device this account has signed in from before; undefined for an unknown one. */
  knownDevice?: (memberId: string) => string | undefined;
  now: Date;
}

interface Bucket {
  name: string;
  /** Failures that pass without a wait. */
  free: number;
}

/**
 * Checks a pass phrase. Each guess counts before it is judged, so that a thousand at once are
 * no faster than one by one. A device the account has used before has a bucket of its own: a
 * stranger who guesses all day slows only himself.
 */
export async function signIn(
  db: Database,
  attempt: SignInAttempt,
): Promise<Result<{ memberId: string }>> {
  const member = await findMember(db, attempt.identifier);
  const buckets = bucketsFor(attempt, member?.id);
  for (const bucket of buckets) {
    const seconds = await takeTurn(db, bucket, attempt.now);
    if (seconds > 0)
      return refuse(
        "too-many-tries",
        `Wait ${seconds} seconds, then try again. Nobody is locked out for good.`,
      );
  }
  const right = await fits(attempt.passphrase, member?.passphraseHash);
  if (!right || !member || member.status !== "active") return wrong();
  await forgive(db, buckets, attempt.now);
  return ok({ memberId: member.id });
}

/**
 * The account or device starts afresh; the source gets back this one try only, or an account of
 * one's own would wipe away the guesses at all others. Waits that are long over are cleared away.
 */
async function forgive(db: Database, buckets: readonly Bucket[], now: Date): Promise<void> {
  const names = buckets.map(({ name }) => name);
  await db.$executeRaw`
    UPDATE sign_in_throttle SET failures = failures - 1
    WHERE bucket = ANY(${names}) AND bucket LIKE 'source %' AND failures > 0`;
  await db.signInThrottle.deleteMany({
    where: {
      OR: [
        { bucket: { in: names.filter((name) => !name.startsWith("source ")) } },
        { lastFailedAt: { lt: new Date(now.getTime() - 86_400_000) } },
      ],
    },
  });
}

const wrong = () =>
  refuse(
    "wrong-sign-in",
    "Check both and try again. Forgotten it? The chair can send you a link for a new one.",
  );

function findMember(db: Database, identifier: string) {
  const typed = identifier.trim().toLowerCase();
  if (/^\d{3,4}$/.test(typed)) return db.member.findUnique({ where: { number: Number(typed) } });
  return db.member.findUnique({ where: { email: typed } });
}

function bucketsFor(attempt: SignInAttempt, memberId: string | undefined): Bucket[] {
  const device = memberId ? attempt.knownDevice?.(memberId) : undefined;
  if (device) return [{ name: `device ${device}`, free: 5 }];
  // Unknown names are counted too, or their lack of waits would tell them apart.
  const account =
    memberId ?? createHash("sha256").update(attempt.identifier.trim().toLowerCase()).digest("hex");
  return [
    { name: `source ${attempt.source}`, free: 50 },
    { name: `account ${account}`, free: 5 },
  ];
}

/**
 * Takes one turn at a bucket: 0, or the seconds until the next. Waits double from 1 s to 60 s. Two
 * tries of one moment may come out of order, so a free turn does not look at the clock.
 */
async function takeTurn(db: Database, bucket: Bucket, now: Date): Promise<number> {
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
