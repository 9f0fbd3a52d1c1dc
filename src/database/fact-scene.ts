import type { Stage } from "../rules/sale-stage.ts";
import type { Database } from "./client.ts";
import { Prisma } from "./generated/client.ts";
import { piecesBack } from "./pieces-back.ts";
import { type TillItem, type TillTerms, tillGoods, tillItems, tillTerms } from "./till-reads.ts";

/** A line that a fact takes back, with how much of it is left. */
export interface LineToReverse {
  id: string;
  kind: "item" | "untagged" | "goods" | "donation";
  itemId: string | null;
  goodsId: string | null;
  memberId: string | null;
  quantity: number;
  unitPrice: number;
  discount: number;
  amount: number;
  tax: number;
  taxInside: number;
  suspended: boolean;
  donated: boolean;
  alreadyReturned: number;
}

/** The server's own moments around a fact, as ISO texts. */
export interface FactClock {
  /** When the drawer was opened; null when the session is not known. */
  openedAt: string | null;
  now: string;
  /** The treasurer is told once for each opening of a drawer. */
  told: boolean;
}

/** Everything that recording a till's fact depends on, as it stood at one moment. */
export interface FactScene {
  stage: Stage;
  terms: TillTerms;
  timeZone: string;
  nextNumber: number;
  tillNumber: number;
  /** The till's open session, which another may be than the fact names; null when it is closed. */
  sessionId: string | null;
  clock: FactClock;
  /** Whoever the fact names, when that is somebody who may sell; else the one who enrolled the till. */
  cashierId: string;
  cashierKnown: boolean;
  earlier: { fingerprint: string } | null;
  items: TillItem[];
  goods: { id: string; price: number | null }[];
  members: { id: string; number: number }[];
  /** The sale that a return or void takes back, when it is here. */
  original: { id: string; kind: string; lines: LineToReverse[] } | null;
}

export interface FactWanted {
  tillId: string;
  receiptId: string;
  /** The opening of the drawer that the fact names. */
  sessionId: string;
  cashierId: string;
  reversesId: string | null;
  tags: string[];
  memberNumbers: number[];
}

/**
 * Written so that one kept plan serves all: the id comes out of a SELECT of its own, because a null
 * would make PostgreSQL plan anew for each sale, and the receipt's sale is looked at only once it
 * is found, because a plan made while there are few could go through all receipts of the sale.
 */
const original = (reversesId: string | null) => Prisma.sql`
  (SELECT CASE WHEN o.sale_id = s.id THEN json_build_object('id', o.id, 'kind', o.kind, 'lines', (
      SELECT json_agg(json_build_object('id', l.id, 'kind', l.kind, 'itemId', l.item_id, 'goodsId', l.goods_id,
        'memberId', l.member_id, 'quantity', l.quantity, 'unitPrice', l.unit_price, 'discount', l.discount,
        'amount', l.amount, 'tax', l.tax, 'taxInside', l.tax_inside, 'suspended', l.suspended,
        'donated', l.donated, 'alreadyReturned', ${piecesBack}))
      FROM receipt_line l WHERE l.receipt_id = o.id)) END
    FROM receipt o WHERE o.id = (SELECT ${reversesId}::uuid))`;

/** One round trip and one moment, so that the parts cannot contradict each other. */
export async function readFactScene(
  db: Database,
  wanted: FactWanted,
): Promise<FactScene | undefined> {
  const rows = await db.$queryRaw<{ scene: FactScene }[]>`/* keep: fact-scene */
    SELECT json_build_object('stage', s.stage, 'terms', ${tillTerms}, 'timeZone', g.time_zone,
      'tillNumber', t.number,
      'nextNumber', (SELECT coalesce(max(number), 0) + 1 FROM receipt WHERE till_id = t.id),
      'sessionId', (SELECT o.id FROM till_session o WHERE o.till_id = t.id AND o.closed_at IS NULL),
      'clock', json_build_object('now', now(),
        'openedAt', (SELECT o.opened_at FROM till_session o WHERE o.id = (SELECT ${wanted.sessionId}::uuid)),
        'told', EXISTS (SELECT 1 FROM discrepancy n JOIN receipt r ON r.id = n.receipt_id
          WHERE n.sale_id = s.id AND n.kind = 'clock-off' AND r.till_session_id = (SELECT o.id FROM till_session o
            WHERE o.till_id = t.id AND o.closed_at IS NULL))),
      'cashierId', coalesce(c.id, d.enrolled_by_id), 'cashierKnown', c.id IS NOT NULL,
      'earlier', (SELECT json_build_object('fingerprint', e.fingerprint)
        FROM receipt e WHERE e.id = ${wanted.receiptId}::uuid),
      'goods', ${tillGoods},
      'members', (SELECT coalesce(json_agg(json_build_object('id', p.id, 'number', p.number)), '[]')
        FROM member p WHERE p.number = ANY((SELECT ${wanted.memberNumbers}::integer[])::integer[])),
      'original', ${original(wanted.reversesId)},
      'items', ${tillItems(wanted.tags)}
    ) AS scene
    FROM till t JOIN till_device d ON d.till_id = t.id JOIN sale s ON s.id = t.sale_id CROSS JOIN guild g
      LEFT JOIN member c ON c.id = ${wanted.cashierId}::uuid AND c.roles && ARRAY['cashier', 'chair']
    WHERE t.id = ${wanted.tillId}::uuid`;
  return rows[0]?.scene;
}
