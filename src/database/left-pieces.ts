import type { Transaction } from "./client.ts";
import { anywhere } from "./search.ts";

/** Places where pieces are that were neither sold nor handed back. */
export const leftPlaces = ["floor", "lost", "guild"] as const;

export type LeftPlace = (typeof leftPlaces)[number];

/** An item with pieces that nobody took home, with its member. */
export interface LeftPiece {
  itemId: string;
  tag: string;
  description: string;
  memberNumber: number;
  memberName: string;
  price: number;
  onFloor: number;
  lost: number;
  withGuild: number;
}

export interface LeftQuery {
  place: LeftPlace;
  /** A member's name or number, words, or a part of a tag. */
  q?: string | undefined;
  /** The last tag of the page before. */
  after?: string | undefined;
  limit: number;
}

/** What is left of a sale in one place, by tag, which is by member and then by entry. */
export async function listLeft(
  db: Transaction,
  saleId: string,
  { place, q = "", after = "", limit }: LeftQuery,
): Promise<{ items: LeftPiece[]; next: string | null }> {
  const digits = q.replace(/[-–.\s]/g, "");
  const rows = await db.$queryRaw<(Omit<LeftPiece, "price"> & { price: bigint })[]>`
    SELECT i.id AS "itemId", i.tag, i.description, m.number AS "memberNumber", m.name AS "memberName", i.price,
      c.on_floor AS "onFloor", c.lost, c.with_guild AS "withGuild"
    FROM item i JOIN item_count c ON c.item_id = i.id JOIN member m ON m.id = i.member_id
    WHERE i.sale_id = ${saleId}::uuid AND i.tag > ${after}
      AND CASE ${place} WHEN 'floor' THEN c.on_floor WHEN 'lost' THEN c.lost ELSE c.with_guild END > 0
      AND (m.name ILIKE ${anywhere(q)} OR m.number::text = ${q} OR i.description ILIKE ${anywhere(q)}
        OR (${/^\d{2,}$/.test(digits)} AND i.tag LIKE ${anywhere(digits)}))
    ORDER BY i.tag LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map((row) => ({ ...row, price: Number(row.price) }));
  return { items, next: rows.length > limit ? (items.at(-1)?.tag ?? null) : null };
}

/** How many pieces of a sale are in each of these places. */
export async function countLeft(
  db: Transaction,
  saleId: string,
): Promise<Record<LeftPlace, number>> {
  const [row] = await db.$queryRaw<Record<LeftPlace, number>[]>`
    SELECT coalesce(sum(c.on_floor), 0)::int AS floor, coalesce(sum(c.lost), 0)::int AS lost,
      coalesce(sum(c.with_guild), 0)::int AS guild
    FROM item i JOIN item_count c ON c.item_id = i.id WHERE i.sale_id = ${saleId}::uuid`;
  return row ?? { floor: 0, lost: 0, guild: 0 };
}
