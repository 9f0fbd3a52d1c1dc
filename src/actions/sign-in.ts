import { createHash } from "node:crypto";
import type { Database } from "../database/client.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { fits } from "./passphrase.ts";
import { type Bucket, takeTurn } from "./take-turn.ts";

export interface SignInAttempt {
  /** An e-mail address or a member number, as typed. */
  identifier: string;
  passphrase: string;
  source: string;
  /** A device this account has signed in from before; undefined for an unknown one. */
  knownDevice?: (memberId: string) => string | undefined;
  now: Date;
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
