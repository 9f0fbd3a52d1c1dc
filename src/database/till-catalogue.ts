import { type FloorState, floorState } from "../rules/on-floor.ts";
import type { Database } from "./client.ts";
import { Prisma } from "./generated/client.ts";
import { togetherFor } from "./together.ts";

export interface CatalogueRead {
  cursor: string;
  changesOnly: boolean;
  at: string;
  /** How many items the text holds. */
  count: number;
  /** The items as one JSON text by PostgreSQL: 50,000 rows never become objects here. */
  items: string;
}

/** A catalogueDelta as JSON, on one line. */
export const catalogueJson = ({ cursor, changesOnly, at, items }: CatalogueRead): string =>
  `{"cursor":"${cursor}","changesOnly":${changesOnly},"at":"${at}","items":${items}}`;

/** The rule's answer for each of the 64 ways in which an item's places can be empty or not. */
const floorStates: FloorState[] = Array.from({ length: 64 }, (_, bits) => {
  const has = (place: number) => (bits >> place) & 1;
  return floorState({
    withdrawn: has(0) === 1,
    withMember: has(1),
    onFloor: has(2),
    withBuyer: has(3),
    withGuild: has(4),
    lost: has(5),
  });
});

const utc = (moment: Prisma.Sql): Prisma.Sql =>
  Prisma.sql`to_char(${moment} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

/** Where the last piece was sold; the number is written as showReceiptNumber writes it. */
const sold = Prisma.sql`CASE WHEN c.with_buyer > 0 THEN (
  SELECT json_build_object('till', t.number, 'receipt', t.number || '-' || lpad(r.number::text, greatest(4, length(r.number::text)), '0'),
    'at', ${utc(Prisma.sql`r.made_at`)})
  FROM movement v JOIN receipt_line l ON l.id = v.receipt_line_id
    JOIN receipt r ON r.id = l.receipt_id JOIN till t ON t.id = r.till_id
  WHERE v.item_id = i.id AND v.kind = 'sold' ORDER BY v.id DESC LIMIT 1) END`;

const item = Prisma.sql`json_build_object('id', i.id, 'tag', i.tag, 'description', i.description, 'size', i.size,
  'memberNumber', m.number, 'price', i.price, 'onFloor', c.on_floor, 'entered', c.entered,
  'piecesInSet', i.pieces_in_set, 'taxKind', k.code, 'donated', i.donated, 'markdown', i.markdown,
  'state', (SELECT ${floorStates}::text[])[1 + (i.withdrawn_at IS NOT NULL)::integer + 2 * (c.with_member > 0)::integer
    + 4 * (c.on_floor > 0)::integer + 8 * (c.with_buyer > 0)::integer + 16 * (c.with_guild > 0)::integer + 32 * (c.lost > 0)::integer],
  'sold', ${sold})`;

const items = Prisma.sql`FROM item i JOIN item_count c ON c.item_id = i.id JOIN member m ON m.id = i.member_id
  JOIN kind k ON k.id = i.kind_id`;

const delta = (from: Prisma.Sql, changesOnly: boolean): Prisma.Sql => Prisma.sql`
  SELECT e.cursor::text AS cursor, count(l.item)::integer AS count,
    ${changesOnly}::boolean AS "changesOnly", ${utc(Prisma.sql`now()`)} AS at,
    '[' || coalesce(string_agg(l.item::text, ','), '') || ']' AS items
  FROM (SELECT pg_snapshot_xmin(pg_current_snapshot())::text::bigint AS cursor) e
    LEFT JOIN LATERAL (SELECT ${item} AS item ${from}) l ON true
  GROUP BY e.cursor`;

/**
 * The items of a sale for a till: all of them, or those that changed since a cursor. The cursor is
 * the number of the oldest transaction that had not ended when this was read. One statement sees
 * one moment, so whatever it could not see belongs to a transaction with that number or a later
 * one, and the next reading takes every change from that number on. What is already committed
 * beyond it comes now and once more then: an item tells its whole state, so twice does no harm.
 * A cursor that this database has not reached is of another one, restored since: all comes anew.
 */
export async function readCatalogue(
  db: Database,
  saleId: string,
  after: string | undefined,
): Promise<CatalogueRead> {
  const all = () => one(db, delta(Prisma.sql`${items} WHERE i.sale_id = ${saleId}::uuid`, false));
  if (after === undefined) return all();
  const changed = Prisma.sql`${items} WHERE i.sale_id = ${saleId}::uuid AND i.id IN (
    SELECT h.item_id FROM till_change h WHERE h.sale_id = ${saleId}::uuid AND h.xid >= ${after}::text::bigint
      AND h.xid < pg_snapshot_xmax(pg_current_snapshot())::text::bigint)`;
  const found = await one(db, delta(changed, true));
  return BigInt(found.cursor) < BigInt(after) ? all() : found;
}

/** The tills of a sale wake at the same moment with the same cursor: they are read for once. */
const changesTogether = togetherFor(async (db: Database, keys: string[]) => {
  const readings = keys.map(async (key) => {
    const [saleId = "", after] = key.split(" ");
    return [key, await readCatalogue(db, saleId, after)] as const;
  });
  return new Map(await Promise.all(readings));
});

/** The same as readCatalogue with a cursor, shared with whoever asks the same at the same moment. */
export async function readChanges(
  db: Database,
  saleId: string,
  after: string,
): Promise<CatalogueRead> {
  const found = await changesTogether(db, `${saleId} ${after}`);
  if (!found) throw new Error("A list of goods was asked for and not read");
  return found;
}

async function one(db: Database, query: Prisma.Sql): Promise<CatalogueRead> {
  const [row] = await db.$queryRaw<CatalogueRead[]>(query);
  if (!row) throw new Error("A list of goods came without its cursor");
  return row;
}
