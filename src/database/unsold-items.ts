import type { FrozenUnsold } from "../rules/statement.ts";
import type { Transaction } from "./client.ts";

export interface UnsoldItem extends FrozenUnsold {
  memberId: string;
  memberNumber: number;
  memberName: string;
}

/**
 * Pieces that came to a sale and did not sell: still on the floor, or picked up again. Pieces that
 * never came are no part of it. With `itemIds` only these items are looked at.
 */
export async function unsoldItems(
  db: Transaction,
  saleId: string,
  itemIds: readonly string[] | null = null,
): Promise<UnsoldItem[]> {
  const rows = await db.$queryRaw<(Omit<UnsoldItem, "price"> & { price: bigint })[]>`
    SELECT i.member_id AS "memberId", p.number AS "memberNumber", p.name AS "memberName", i.tag, i.description,
      (c.on_floor + least(c.with_member, coalesce(home.pieces, 0)))::integer AS quantity, i.price
    FROM item i
    JOIN item_count c ON c.item_id = i.id
    JOIN member p ON p.id = i.member_id
    LEFT JOIN (SELECT m.item_id, sum(m.quantity) AS pieces FROM movement m JOIN item o ON o.id = m.item_id
      WHERE o.sale_id = ${saleId}::uuid AND m.kind = 'picked-up' GROUP BY m.item_id) home ON home.item_id = i.id
    WHERE i.sale_id = ${saleId}::uuid
      AND (${itemIds === null} OR i.id = ANY (${[...(itemIds ?? [])]}::uuid[]))
      AND c.on_floor + least(c.with_member, coalesce(home.pieces, 0)) > 0
    ORDER BY p.number, i.number`;
  return rows.map((row) => ({ ...row, price: Number(row.price) }));
}
