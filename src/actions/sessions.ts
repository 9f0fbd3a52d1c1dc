import type { Database } from "../database/client.ts";
import type { Actor } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";

/** A signed-in device stays signed in this long without use; the longest sale weekend is shorter. */
export const sessionDays = 30;

/** Two tabs may renew at the same moment: the token before the last one still counts this long. */
const graceSeconds = 60;

export interface Renewed {
  sessionId: string;
  memberId: string;
}

const laterBy = (now: Date, days: number): Date => new Date(now.getTime() + days * 86_400_000);

export async function startSession(
  db: Database,
  given: { memberId: string; refreshHash: string; device: string; now: Date },
): Promise<string> {
  const { memberId, refreshHash, device, now } = given;
  const session = await db.session.create({
    data: {
      memberId,
      refreshHash,
      device: device.slice(0, 200),
      rotatedAt: now,
      createdAt: now,
      expiresAt: laterBy(now, sessionDays),
    },
  });
  return session.id;
}

/**
 * Exchanges a refresh token for the next one. A token that was already exchanged, longer ago than
 * the grace, has been copied by somebody: the whole session ends.
 */
export async function renewSession(
  db: Database,
  given: { refreshHash: string; nextHash: string; now: Date },
): Promise<Result<Renewed & { replaced: boolean }>> {
  const { refreshHash, nextHash, now } = given;
  const replaced = await db.$queryRaw<Renewed[]>`
    UPDATE session SET previous_refresh_hash = refresh_hash, refresh_hash = ${nextHash}, rotated_at = ${now},
      expires_at = ${laterBy(now, sessionDays)}
    WHERE refresh_hash = ${refreshHash} AND ended_at IS NULL AND expires_at > ${now}
    RETURNING id AS "sessionId", member_id AS "memberId"`;
  if (replaced[0]) return ok({ ...replaced[0], replaced: true });
  const earlier = await db.session.findUnique({ where: { previousRefreshHash: refreshHash } });
  if (!earlier || earlier.endedAt || earlier.expiresAt <= now) return gone();
  const inGrace = now.getTime() - earlier.rotatedAt.getTime() < graceSeconds * 1000;
  if (inGrace) return ok({ sessionId: earlier.id, memberId: earlier.memberId, replaced: false });
  await db.session.update({ where: { id: earlier.id }, data: { endedAt: now } });
  return gone();
}

const gone = () => refuse("not-signed-in", "This sign-in has ended. Please sign in again.");

/** Ends one session of the person, or all but the one they are using. */
export async function endSessions(
  db: Database,
  actor: Pick<Actor, "id">,
  which: { only?: string; allBut?: string },
  now: Date,
): Promise<number> {
  const id = which.only ? which.only : which.allBut ? { not: which.allBut } : undefined;
  const ended = await db.session.updateMany({
    where: { memberId: actor.id, endedAt: null, ...(id ? { id } : {}) },
    data: { endedAt: now },
  });
  return ended.count;
}
