import { type FloorState, floorState, type PiecesByPlace } from "../rules/on-floor.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import type { Database } from "./client.ts";
import { togetherFor } from "./together.ts";

/** A tag as the till asks for it, read afresh each time: another till may just have sold it. */
export interface LookedUp {
  itemId: string;
  saleId: string;
  tag: string;
  memberNumber: number;
  description: string;
  size: string;
  price: number;
  quantity: number;
  onFloor: number;
  donated: boolean;
  state: FloorState;
  /** Where its last piece was sold, when a piece is with a buyer. */
  sold: { till: number; receipt: string; at: string; cashier: string } | null;
}

interface Row extends Omit<LookedUp, "state" | "sold">, PiecesByPlace {
  sold: { till: number; number: number; at: string; cashier: string } | null;
}

/**
 * Eight tills scan at the same moment; those tags are read with one query. They come out of a
 * SELECT of their own, so that PostgreSQL keeps one plan for any number of them.
 */
const readTags = togetherFor(async (db: Database, tags: string[]) => {
  const rows = await db.$queryRaw<{ item: Row }[]>`/* keep: look-up */
    SELECT json_build_object('itemId', i.id, 'saleId', i.sale_id, 'tag', i.tag,
      'memberNumber', m.number, 'description', i.description, 'size', i.size, 'price', i.price,
      'quantity', i.quantity, 'donated', i.donated, 'withdrawn', i.withdrawn_at IS NOT NULL,
      'withMember', c.with_member, 'onFloor', c.on_floor, 'withBuyer', c.with_buyer,
      'withGuild', c.with_guild, 'lost', c.lost,
      'sold', CASE WHEN c.with_buyer > 0 THEN (
        SELECT json_build_object('till', t.number, 'number', r.number, 'at', r.at, 'cashier', k.name)
        FROM movement v JOIN receipt_line l ON l.id = v.receipt_line_id
          JOIN receipt r ON r.id = l.receipt_id JOIN till t ON t.id = r.till_id
          JOIN member k ON k.id = r.cashier_id
        WHERE v.item_id = i.id AND v.kind = 'sold' ORDER BY v.id DESC LIMIT 1) END) AS item
    FROM item i JOIN item_count c ON c.item_id = i.id JOIN member m ON m.id = i.member_id
    WHERE i.tag = ANY((SELECT ${tags}::text[])::text[])`;
  return new Map(rows.map(({ item }) => [item.tag, lookedUp(item)]));
});

/** The item of a tag, of whichever sale; undefined when no piece has this number. */
export const lookUpTag = (db: Database, tag: string): Promise<LookedUp | undefined> =>
  readTags(db, tag);

function lookedUp(row: Row): LookedUp {
  const { withdrawn, withMember, withBuyer, withGuild, lost, sold, ...item } = row;
  const state = floorState({
    withdrawn,
    withMember,
    withBuyer,
    withGuild,
    lost,
    onFloor: item.onFloor,
  });
  return {
    ...item,
    state,
    sold: sold && {
      till: sold.till,
      receipt: showReceiptNumber(sold.till, sold.number),
      at: new Date(sold.at).toISOString(),
      cashier: sold.cashier,
    },
  };
}
