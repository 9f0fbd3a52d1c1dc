import type { Role } from "../rules/roles.ts";
import type { Database } from "./client.ts";
import type { Actor } from "./perform.ts";
import { togetherFor } from "./together.ts";

interface Row {
  sessionId: string;
  expiresAt: Date;
  id: string;
  number: number;
  name: string;
  roles: Role[];
}

/** Every request asks this first, so those of one moment are read with one query. */
const openSession = togetherFor(async (db: Database, ids: string[]) => {
  const rows = await db.$queryRaw<Row[]>`/* keep: open-sessions */
    SELECT s.id AS "sessionId", s.expires_at AS "expiresAt", m.id, m.number, m.name, m.roles
    FROM session s JOIN member m ON m.id = s.member_id
    WHERE s.id = ANY((SELECT ${ids}::uuid[])::uuid[]) AND s.ended_at IS NULL AND m.status = 'active'`;
  return new Map(rows.map((row) => [row.sessionId, row]));
});

/**
 * The person of a session that is neither ended nor too old, with the roles of this very moment:
 * ending a session or taking a role away works at the next request, whatever the token says.
 */
export async function actorOfSession(
  db: Database,
  sessionId: string,
  now: Date,
): Promise<Actor | null> {
  const row = await openSession(db, sessionId);
  if (!row || row.expiresAt <= now) return null;
  const { id, number, name, roles } = row;
  return { id, number, name, roles };
}
