import type { Stage } from "../rules/sale-stage.ts";
import type { Database, Transaction } from "./client.ts";

/** An item as the till sees it: what it costs and where its pieces are. */
export interface TillItem {
  id: string;
  saleId: string;
  tag: string;
  memberId: string;
  memberNumber: number;
  description: string;
  size: string;
  price: number;
  quantity: number;
  donated: boolean;
  withdrawn: boolean;
  withMember: number;
  onFloor: number;
  withBuyer: number;
  withGuild: number;
  lost: number;
}

export interface EarlierReceipt {
  fingerprint: string;
  tillNumber: number;
  number: number;
  subtotal: number;
  tax: number;
  total: number;
  cashGiven: number;
  change: number;
}

/** Everything that recording a receipt depends on, as it stood at one moment. */
export interface TillScene {
  stage: Stage;
  taxRate: number;
  currency: string;
  locale: string;
  till: { id: string; number: number; sessionId: string | null } | null;
  /** What was recorded under this receipt id before. */
  earlier: EarlierReceipt | null;
  items: TillItem[];
}

/**
 * One round trip and one moment: the parts cannot contradict each other. The tags
 * come out of a SELECT of their own, so that PostgreSQL does not plan anew for each basket.
 */
export async function readTillScene(
  db: Database,
  wanted: { saleId: string; tillId: string; receiptId: string; tags: string[] },
): Promise<TillScene | undefined> {
  const rows = await db.$queryRaw<{ scene: TillScene }[]>`/* keep: till-scene */
    SELECT json_build_object(
      'stage', s.stage, 'taxRate', s.tax_rate, 'currency', g.currency, 'locale', g.locale,
      'till', (SELECT json_build_object('id', t.id, 'number', t.number, 'sessionId', o.id)
        FROM till t LEFT JOIN till_session o ON o.till_id = t.id AND o.closed_at IS NULL
        WHERE t.id = ${wanted.tillId}::uuid AND t.sale_id = s.id),
      'earlier', (SELECT json_build_object('fingerprint', e.fingerprint, 'tillNumber', u.number,
          'number', e.number, 'subtotal', e.subtotal, 'tax', e.tax, 'total', e.total,
          'cashGiven', e.cash_given, 'change', e.change)
        FROM receipt e JOIN till u ON u.id = e.till_id WHERE e.id = ${wanted.receiptId}::uuid),
      'items', (SELECT coalesce(json_agg(json_build_object(
          'id', i.id, 'saleId', i.sale_id, 'tag', i.tag, 'memberId', i.member_id,
          'memberNumber', m.number, 'description', i.description, 'size', i.size, 'price', i.price,
          'quantity', i.quantity, 'donated', i.donated, 'withdrawn', i.withdrawn_at IS NOT NULL,
          'withMember', c.with_member, 'onFloor', c.on_floor, 'withBuyer', c.with_buyer,
          'withGuild', c.with_guild, 'lost', c.lost)), '[]')
        FROM item i JOIN item_count c ON c.item_id = i.id JOIN member m ON m.id = i.member_id
        WHERE i.tag = ANY((SELECT ${wanted.tags}::text[])::text[]))
    ) AS scene
    FROM sale s CROSS JOIN guild g WHERE s.id = ${wanted.saleId}::uuid`;
  return rows[0]?.scene;
}

export interface SoldWhere {
  itemId: string;
  tillNumber: number;
  receiptNumber: number;
  at: Date;
  cashier: string;
  locale: string;
  timeZone: string;
}

/** Where each of these items was last sold. */
export const whereSold = (db: Database | Transaction, itemIds: string[]): Promise<SoldWhere[]> =>
  db.$queryRaw<SoldWhere[]>`
    SELECT DISTINCT ON (v.item_id) v.item_id AS "itemId", t.number AS "tillNumber",
      r.number AS "receiptNumber", r.at, m.name AS cashier, g.locale, g.time_zone AS "timeZone"
    FROM movement v JOIN receipt_line l ON l.id = v.receipt_line_id
      JOIN receipt r ON r.id = l.receipt_id JOIN till t ON t.id = r.till_id
      JOIN member m ON m.id = r.cashier_id CROSS JOIN guild g
    WHERE v.item_id = ANY(${itemIds}::uuid[]) AND v.kind = 'sold'
    ORDER BY v.item_id, v.id DESC`;
