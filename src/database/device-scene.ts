import type { TaxRules } from "../rules/tax/tax-rules.ts";
import type { Database } from "./client.ts";

/** Everything a till's device needs beside the goods; amounts are smallest coins, times ISO texts. */
export interface DeviceScene {
  till: { id: string; number: number; name: string };
  sale: {
    id: string;
    name: string;
    stage: string;
    tax: TaxRules;
    cashStep: number;
    cashFives: "up" | "down";
    markdownRate: number;
    markdownFrom: string | null;
    receiptFooter: string;
  };
  guild: {
    name: string;
    address: string;
    currency: string;
    locale: string;
    timeZone: string;
    tagLength: number;
  };
  session: { id: string; float: number; openedAt: string; openedBy: string } | null;
  lastNumber: number;
  goods: {
    id: string;
    name: string;
    kind: "goods" | "donation";
    price: number | null;
    taxKind: string;
    position: number;
  }[];
  cashiers: { id: string; name: string; number: number; pinHash: string }[];
}

/**
 * The scene of a till whose device is not noted as lost; undefined for any other. Cashiers are told
 * with the hash of their PIN, so that they can take over off line, and only while the sale is not
 * closed: an old device keeps no fresh ones.
 */
export async function readDeviceScene(
  db: Database,
  tillId: string,
): Promise<DeviceScene | undefined> {
  const rows = await db.$queryRaw<{ scene: DeviceScene }[]>`/* keep: device-scene */
    SELECT json_build_object(
      'till', json_build_object('id', t.id, 'number', t.number, 'name', t.name),
      'sale', json_build_object('id', s.id, 'name', s.name, 'stage', s.stage, 'tax', s.tax_rules,
        'cashStep', s.cash_step, 'cashFives', s.cash_fives, 'markdownRate', s.markdown_rate,
        'markdownFrom', to_char(s.markdown_from AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
        'receiptFooter', s.receipt_footer),
      'guild', json_build_object('name', g.name, 'address', g.address, 'currency', g.currency, 'locale', g.locale,
        'timeZone', g.time_zone, 'tagLength', g.tag_length),
      'session', (SELECT json_build_object('id', o.id, 'float', o.float,
          'openedAt', to_char(o.opened_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), 'openedBy', m.name)
        FROM till_session o JOIN member m ON m.id = o.opened_by_id WHERE o.till_id = t.id AND o.closed_at IS NULL),
      'lastNumber', (SELECT coalesce(max(r.number), 0) FROM receipt r WHERE r.till_id = t.id),
      'goods', (SELECT coalesce(json_agg(json_build_object('id', b.id, 'name', b.name, 'kind', b.kind,
          'price', b.price, 'taxKind', b.tax_kind, 'position', b.position) ORDER BY b.position, b.id), '[]')
        FROM guild_good b WHERE b.sale_id = s.id AND b.retired_at IS NULL),
      'cashiers', (SELECT coalesce(json_agg(json_build_object('id', p.id, 'name', p.name, 'number', p.number,
          'pinHash', p.pin_hash) ORDER BY p.number), '[]')
        FROM member p WHERE p.status = 'active' AND p.roles && ARRAY['cashier', 'chair'] AND p.pin_hash IS NOT NULL
          AND s.stage <> 'closed')) AS scene
    FROM till t JOIN till_device d ON d.till_id = t.id AND d.lost_at IS NULL
      JOIN sale s ON s.id = t.sale_id CROSS JOIN guild g
    WHERE t.id = ${tillId}::uuid`;
  return rows[0]?.scene;
}

/** Equal for two scenes that a till need not tell apart: it counts its own receipts itself. */
export const sceneMark = ({ lastNumber: _own, ...rest }: DeviceScene): string =>
  JSON.stringify(rest);
