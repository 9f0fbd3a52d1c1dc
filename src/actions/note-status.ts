import type { TillStatus } from "../contract/till-device.ts";
import type { Database } from "../database/client.ts";
import type { KnownDevice } from "../database/till-devices.ts";

/** Eight tills that sell would write these rows all day; this often is enough to look at. */
const everyMilliseconds = 5_000;

/**
 * Notes that a till was heard of, and what it says of itself. Not a deed of a person, so it is not
 * audited. That everything is sent, up to which number, is noted at once, since the cash-up and the
 * end of the sale may wait for it.
 */
export async function noteStatus(
  db: Database,
  till: KnownDevice,
  said: TillStatus | undefined,
  now: Date,
): Promise<void> {
  const since = now.getTime() - (till.lastSeenAt?.getTime() ?? 0);
  const allSent = said?.unsent === 0 && (till.unsent > 0 || said.lastNumber > till.lastNumber);
  if (since < everyMilliseconds && since >= 0 && !allSent) return;
  const { unsent = null, lastNumber = null } = said ?? {};
  await db.$executeRaw`
    UPDATE till_device SET last_seen_at = ${now}, unsent = coalesce(${unsent}::integer, unsent),
      last_number = greatest(last_number, ${lastNumber}::integer)
    WHERE till_id = ${till.tillId}::uuid AND lost_at IS NULL`;
}
