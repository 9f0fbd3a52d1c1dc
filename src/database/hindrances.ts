import { formatMoney } from "../rules/currency.ts";
import type { Hindrance, HindranceFacts } from "../rules/hindrances/hindrance.ts";
import { hindrancesIn } from "../rules/hindrances/hindrances.ts";
import { allows, type Stage } from "../rules/sale-stage.ts";
import type { Database, Transaction } from "./client.ts";
import { policyOf } from "./policies.ts";

interface Counted extends Omit<HindranceFacts, "saleId" | "settling" | "policy"> {
  stage: Stage;
  currency: string;
  locale: string;
}

/** Everything that stands in the way of settling a sale, what must be done first. */
export async function hindrancesOf(
  db: Database | Transaction,
  saleId: string,
): Promise<Hindrance[]> {
  const { stage, currency, locale, ...facts } = await countedIn(db, saleId);
  const { policy } = await policyOf(db, saleId);
  const settling = allows(stage, "settle");
  return hindrancesIn({ ...facts, saleId, settling, policy }, (amount) =>
    formatMoney(amount, currency, locale),
  );
}

/** One round trip and one moment, however many things there are to look at. */
async function countedIn(db: Database | Transaction, saleId: string): Promise<Counted> {
  const [row] = await db.$queryRaw<{ counted: Counted }[]>`
    WITH waiting AS (
      SELECT l.id, l.tag, l.description, l.amount, EXISTS (SELECT 1 FROM discrepancy d
        WHERE d.receipt_id = r.id AND d.kind = 'sold-twice' AND d.detail ->> 'itemId' = l.item_id::text) AS twice
      FROM receipt r JOIN receipt_line l ON l.receipt_id = r.id
      WHERE r.sale_id = ${saleId}::uuid AND l.suspended
        AND NOT EXISTS (SELECT 1 FROM identified i WHERE i.line_id = l.id)),
    till_of AS (SELECT id, number FROM till WHERE sale_id = ${saleId}::uuid),
    unmarked AS (
      SELECT m.number FROM shift f JOIN member m ON m.id = f.member_id
      WHERE f.sale_id = ${saleId}::uuid AND f.mark IS NULL AND f.withdrawn_at IS NULL)
    SELECT json_build_object('stage', s.stage, 'currency', g.currency, 'locale', g.locale,
      'suspense', (SELECT json_build_object('lines', count(*), 'amount', coalesce(sum(amount), 0)) FROM waiting WHERE NOT twice),
      'soldTwice', (SELECT coalesce(json_agg(json_build_object('lineId', id, 'tag', tag, 'description', description)
        ORDER BY id), '[]') FROM waiting WHERE twice),
      'floor', (SELECT json_build_object('pieces', coalesce(sum(c.on_floor), 0), 'members', count(DISTINCT i.member_id))
        FROM item i JOIN item_count c ON c.item_id = i.id WHERE i.sale_id = s.id AND c.on_floor > 0),
      'devices', (SELECT coalesce(json_agg(json_build_object('till', t.number, 'device', d.name, 'unsent', d.unsent,
        'lost', d.lost_at IS NOT NULL) ORDER BY t.number), '[]')
        FROM till_of t JOIN till_device d ON d.till_id = t.id WHERE d.unsent > 0),
      'openTills', (SELECT coalesce(json_agg(json_build_object('id', t.id, 'number', t.number) ORDER BY t.number), '[]')
        FROM till_of t JOIN till_session o ON o.till_id = t.id WHERE o.closed_at IS NULL),
      'drawers', (SELECT coalesce(json_agg(json_build_object('till', t.number, 'difference', u.difference, 'note', u.note)
        ORDER BY u.at), '[]')
        FROM till_of t JOIN till_session o ON o.till_id = t.id JOIN cash_up u ON u.till_session_id = o.id
        WHERE u.difference <> 0 AND NOT EXISTS (SELECT 1 FROM looked_into k WHERE k.till_session_id = o.id)),
      'shifts', (SELECT json_build_object('count', (SELECT count(*) FROM unmarked), 'members',
        (SELECT coalesce(json_agg(DISTINCT number), '[]') FROM unmarked))),
      'wishes', (SELECT coalesce(json_agg(json_build_object('member', m.number, 'classCode', w.class_code,
        'payMethod', w.pay_method) ORDER BY m.number), '[]')
        FROM sale_seller w JOIN member m ON m.id = w.member_id
        WHERE w.sale_id = s.id AND (w.class_code IS NOT NULL OR w.pay_method IS NOT NULL))) AS counted
    FROM sale s CROSS JOIN guild g WHERE s.id = ${saleId}::uuid`;
  if (!row) throw new Error(`The sale ${saleId} is gone, and sales never go.`);
  return row.counted;
}
