import type { CashRounding } from "../rules/cash-rounding.ts";
import type { Stage } from "../rules/sale-stage.ts";
import type { TaxRules } from "../rules/tax/tax-rules.ts";
import type { Database, Transaction } from "./client.ts";
import { Prisma } from "./generated/client.ts";

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
  taxKind: string;
  donated: boolean;
  /** Its member agrees to the markdown of the last day. */
  markdown: boolean;
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
  rounding: number;
}

/** Everything that recording a receipt depends on, as it stood at one moment. */
export interface TillScene {
  stage: Stage;
  terms: TillTerms;
  currency: string;
  locale: string;
  timeZone: string;
  /** The database's clock, as ISO text. */
  now: string;
  till: { id: string; number: number; sessionId: string | null; device: boolean } | null;
  /** What was recorded under this receipt id before. */
  earlier: EarlierReceipt | null;
  items: TillItem[];
  goods: TillGood[];
  /** Members by number, for pieces without a tag. */
  members: { id: string; number: number }[];
}

/** What the sale says about taxes, cash and the last day's markdown. */
export interface TillTerms {
  tax: TaxRules;
  cash: CashRounding;
  markdownRate: number;
  markdownFrom: string | null;
}

export interface TillGood {
  id: string;
  name: string;
  kind: "goods" | "donation";
  price: number | null;
  taxKind: string;
}

/** Parts of the readings at the till; `s` is the sale. */
export const tillTerms = Prisma.sql`json_build_object('tax', s.tax_rules,
  'cash', json_build_object('step', s.cash_step, 'fives', s.cash_fives),
  'markdownRate', s.markdown_rate, 'markdownFrom', s.markdown_from)`;

export const tillGoods = Prisma.sql`(SELECT coalesce(json_agg(json_build_object('id', b.id, 'name', b.name,
    'kind', b.kind, 'price', b.price, 'taxKind', b.tax_kind)), '[]')
  FROM guild_good b WHERE b.sale_id = s.id AND b.retired_at IS NULL)`;

/** The tags come out of a SELECT of their own, so that PostgreSQL does not plan anew for each basket. */
export const tillItems = (tags: string[]) => Prisma.sql`(SELECT coalesce(json_agg(json_build_object(
    'id', i.id, 'saleId', i.sale_id, 'tag', i.tag, 'memberId', i.member_id,
    'memberNumber', m.number, 'description', i.description, 'size', i.size, 'price', i.price,
    'quantity', i.quantity, 'taxKind', k.code, 'donated', i.donated, 'markdown', i.markdown,
    'withdrawn', i.withdrawn_at IS NOT NULL, 'withMember', c.with_member, 'onFloor', c.on_floor,
    'withBuyer', c.with_buyer, 'withGuild', c.with_guild, 'lost', c.lost)), '[]')
  FROM item i JOIN item_count c ON c.item_id = i.id JOIN member m ON m.id = i.member_id
    JOIN kind k ON k.id = i.kind_id
  WHERE i.tag = ANY((SELECT ${tags}::text[])::text[]))`;

export interface TillWanted {
  saleId: string;
  tillId: string;
  receiptId: string;
  tags: string[];
  memberNumbers: number[];
}

/** One round trip and one moment: the parts cannot contradict each other. */
export async function readTillScene(
  db: Database,
  wanted: TillWanted,
): Promise<TillScene | undefined> {
  const rows = await db.$queryRaw<{ scene: TillScene }[]>`/* keep: till-scene */
    SELECT json_build_object(
      'stage', s.stage, 'currency', g.currency, 'locale', g.locale, 'timeZone', g.time_zone, 'now', now(),
      'terms', ${tillTerms}, 'goods', ${tillGoods},
      'members', (SELECT coalesce(json_agg(json_build_object('id', p.id, 'number', p.number)), '[]')
        FROM member p WHERE p.number = ANY((SELECT ${wanted.memberNumbers}::integer[])::integer[])),
      'till', (SELECT json_build_object('id', t.id, 'number', t.number, 'sessionId', o.id,
          'device', EXISTS (SELECT 1 FROM till_device d WHERE d.till_id = t.id))
        FROM till t LEFT JOIN till_session o ON o.till_id = t.id AND o.closed_at IS NULL
        WHERE t.id = ${wanted.tillId}::uuid AND t.sale_id = s.id),
      'earlier', (SELECT json_build_object('fingerprint', e.fingerprint, 'tillNumber', u.number,
          'number', e.number, 'subtotal', e.subtotal, 'tax', e.tax, 'total', e.total,
          'cashGiven', e.cash_given, 'change', e.change, 'rounding', e.rounding)
        FROM receipt e JOIN till u ON u.id = e.till_id WHERE e.id = ${wanted.receiptId}::uuid),
      'items', ${tillItems(wanted.tags)}
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
