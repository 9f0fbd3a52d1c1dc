import type { Transaction } from "./client.ts";
import { anywhere } from "./search.ts";

/** How far a member's pieces have come and gone; counts are pieces, withdrawn ones left out. */
export interface DeskMember {
  number: number;
  name: string;
  entered: number;
  toCome: number;
  onFloor: number;
  sold: number;
}

export interface DeskQuery {
  q?: string;
  /** The last number of the page before. */
  after?: number;
  limit: number;
}

/** Members with pieces in a sale, in the order of their numbers. */
export const listDeskMembers = (
  db: Transaction,
  saleId: string,
  { q = "", after = 0, limit }: DeskQuery,
): Promise<DeskMember[]> => db.$queryRaw<DeskMember[]>`
  SELECT m.number, m.name, sum(c.entered)::integer AS entered,
    sum(c.with_member)::integer AS "toCome", sum(c.on_floor)::integer AS "onFloor",
    sum(c.with_buyer)::integer AS sold
  FROM item i JOIN item_count c ON c.item_id = i.id JOIN member m ON m.id = i.member_id
  WHERE i.sale_id = ${saleId}::uuid AND i.withdrawn_at IS NULL AND m.number > ${after}
    AND (m.name ILIKE ${anywhere(q)} OR m.number::text = ${q})
  GROUP BY m.number, m.name ORDER BY m.number LIMIT ${limit}`;

/** How far a whole sale, or one member of it, has come. */
export async function deskProgress(db: Transaction, saleId: string, memberId: string | null) {
  const [row] = await db.$queryRaw<Omit<DeskMember, "number" | "name">[]>`
    SELECT coalesce(sum(c.entered), 0)::integer AS entered,
      coalesce(sum(c.with_member), 0)::integer AS "toCome",
      coalesce(sum(c.on_floor), 0)::integer AS "onFloor",
      coalesce(sum(c.with_buyer), 0)::integer AS sold
    FROM item i JOIN item_count c ON c.item_id = i.id
    WHERE i.sale_id = ${saleId}::uuid AND i.withdrawn_at IS NULL
      AND (${memberId}::uuid IS NULL OR i.member_id = ${memberId}::uuid)`;
  return row ?? { entered: 0, toCome: 0, onFloor: 0, sold: 0 };
}
