import type { Role } from "../rules/roles.ts";
import type { Database } from "./client.ts";
import type { Actor } from "./perform.ts";

interface Row {
  id: string;
  number: number;
  name: string;
  roles: Role[];
}

/**
 * The person of a session that is neither ended nor too old, with the roles of this very moment:
 * ending a session or taking a role away works at the next request, whatever the token says.
 */
export async function actorOfSession(
  db: Database,
  sessionId: string,
  now: Date,
): Promise<Actor | null> {
  const rows = await db.$queryRaw<Row[]>`
    SELECT m.id, m.number, m.name, m.roles
    FROM session s JOIN member m ON m.id = s.member_id
    WHERE s.id = ${sessionId}::uuid AND s.ended_at IS NULL AND s.expires_at > ${now} AND m.status = 'active'`;
  return rows[0] ?? null;
}
