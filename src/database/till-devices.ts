import type { Database } from "./client.ts";
import { togetherFor } from "./together.ts";

/** A till as its device is known by: which till of which sale, and what was last heard of it. */
export interface KnownDevice {
  tillId: string;
  number: number;
  saleId: string;
  device: string;
  tokenHash: string;
  lastSeenAt: Date | null;
  unsent: number;
  lastNumber: number;
}

/** Every call of a till asks this first, so those of one moment are read with one query. */
const byToken = togetherFor(async (db: Database, hashes: string[]) => {
  const rows = await db.$queryRaw<KnownDevice[]>`/* keep: till-devices */
    SELECT d.till_id AS "tillId", t.number, t.sale_id AS "saleId", d.name AS device,
      d.token_hash AS "tokenHash", d.last_seen_at AS "lastSeenAt", d.unsent, d.last_number AS "lastNumber"
    FROM till_device d JOIN till t ON t.id = d.till_id
    WHERE d.token_hash = ANY((SELECT ${hashes}::text[])::text[]) AND d.lost_at IS NULL`;
  return new Map(rows.map((row) => [row.tokenHash, row]));
});

/** The till of a device that is not noted as lost; undefined for any other token. */
export const deviceOfToken = (db: Database, tokenHash: string): Promise<KnownDevice | undefined> =>
  byToken(db, tokenHash);

export interface TillDeviceRead {
  id: string;
  number: number;
  name: string;
  open: boolean;
  device: {
    name: string;
    enrolledAt: string;
    lostAt: string | null;
    lastSeenAt: string | null;
    unsent: number;
    lastNumber: number;
  } | null;
}

/** Every till of a sale, whether it is open, and how its device is. */
export async function listTillDevices(db: Database, saleId: string): Promise<TillDeviceRead[]> {
  const rows = await db.till.findMany({
    where: { saleId },
    orderBy: { number: "asc" },
    include: { device: true, sessions: { where: { closedAt: null }, select: { id: true } } },
  });
  return rows.map(({ id, number, name, sessions, device }) => ({
    id,
    number,
    name,
    open: sessions.length > 0,
    device: device && {
      name: device.name,
      enrolledAt: device.enrolledAt.toISOString(),
      lostAt: device.lostAt?.toISOString() ?? null,
      lastSeenAt: device.lastSeenAt?.toISOString() ?? null,
      unsent: device.unsent,
      lastNumber: device.lastNumber,
    },
  }));
}
