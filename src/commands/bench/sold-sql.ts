import { firstPolicy } from "../../rules/policy/policy.ts";
import { flatTax } from "../../rules/tax/tax-rules.ts";

export const saleCount = 10;
const itemsEach = 2_000;

/**
 * Members with ten sales and 2,000 items each, half of every item sold and all sales but the last
 * settled. The rows come set after set with the guards off, as they would stand after years.
 */
export const soldSql = (members: number, passphraseHash: string): string[] => [
  `INSERT INTO guild (id, name, currency, locale, time_zone)
   VALUES (1, 'Bench weavers', 'USD', 'en-US', 'America/Chicago')`,
  `INSERT INTO kind (id, code, name, position)
   SELECT gen_random_uuid(), 'kind-' || n, 'Kind ' || n, n FROM generate_series(0, 7) n`,
  `INSERT INTO member (id, number, name, roles, passphrase_hash)
   SELECT gen_random_uuid(), 100 + n, 'Weaver ' || n, ARRAY['member'], '${passphraseHash}'
   FROM generate_series(0, ${members - 1}) n`,
  `INSERT INTO sale (id, name, first_day, last_day, entry_deadline, tax_rules, stage)
   SELECT gen_random_uuid(), 'Sale ' || n, date '2016-11-25' + 365 * n, date '2016-11-27' + 365 * n, '2016-11-20',
     '${JSON.stringify(flatTax(8_250, "Sales tax"))}', CASE n WHEN ${saleCount} THEN 'selling' ELSE 'closed' END
   FROM generate_series(1, ${saleCount}) n`,
  `INSERT INTO sale_policy (sale_id, version, policy)
   SELECT id, 1, '${JSON.stringify(firstPolicy(20_000))}' FROM sale`,
  "INSERT INTO till (id, sale_id, number, name) SELECT gen_random_uuid(), id, 1, '' FROM sale",
  `INSERT INTO till_session (id, till_id, float, opened_by_id, closed_at)
   SELECT gen_random_uuid(), t.id, 0, m.id, now() FROM till t, member m WHERE m.number = 100`,
  "BEGIN",
  "SET LOCAL session_replication_role = replica",
  `INSERT INTO stage_change (sale_id, from_stage, to_stage, by_id, at)
   SELECT s.id, 'entries-closed', 'selling', m.id, s.first_day FROM sale s, member m WHERE m.number = 100`,
  `INSERT INTO item (id, sale_id, member_id, number, tag, kind_id, description, colours, fibres, price, quantity)
   SELECT gen_random_uuid(), s.id, m.id, n, (1000000000 + m.number * ${itemsEach} + n)::text, k.id, 'Piece ' || n,
     (ARRAY['Moss', 'Navy and cream', 'rust', 'natural', ''])[n % 5 + 1],
     ('[{"fibre":"' || (ARRAY['wool', 'cotton', 'linen', 'silk'])[n % 4 + 1] || '","percent":100}]')::jsonb,
     900 + 37 * (n % 400), 2
   FROM generate_series(1, ${itemsEach}) n
     JOIN sale s ON s.name = 'Sale ' || (n % ${saleCount} + 1) JOIN kind k ON k.code = 'kind-' || n % 8, member m`,
  "INSERT INTO item_count (item_id, entered, with_buyer, on_floor) SELECT id, 2, number % 2, 2 - number % 2 FROM item",
  "INSERT INTO item_making (item_id, minutes, materials) SELECT id, 60 + number % 90, 500 FROM item WHERE number % 3 = 0",
  `INSERT INTO movement (item_id, kind, from_place, to_place, quantity, by_id, at)
   SELECT i.id, 'checked-in', 'member', 'floor', 2, i.member_id, s.first_day - 1 FROM item i JOIN sale s ON s.id = i.sale_id`,
  // Five pieces stand on each receipt, whosever they are.
  `CREATE TEMP TABLE sold ON COMMIT DROP AS
     SELECT i.*, row_number() OVER (PARTITION BY i.sale_id ORDER BY i.number, i.member_id) - 1 AS place
     FROM item i WHERE i.number % 2 = 1`,
  `CREATE TEMP TABLE slip ON COMMIT DROP AS
     SELECT sale_id, place / 5 + 1 AS number, gen_random_uuid() AS id, sum(price) AS price
     FROM sold GROUP BY sale_id, place / 5`,
  `INSERT INTO receipt (id, sale_id, till_id, till_session_id, number, kind, subtotal, tax, total, fingerprint,
     cashier_id, made_at)
   SELECT p.id, p.sale_id, t.id, o.id, p.number, 'sale', p.price, 0, p.price, repeat('0', 64), o.opened_by_id,
     s.first_day + p.number * interval '1 minute'
   FROM slip p JOIN sale s ON s.id = p.sale_id JOIN till t ON t.sale_id = p.sale_id JOIN till_session o ON o.till_id = t.id`,
  `INSERT INTO receipt_line (id, receipt_id, position, kind, item_id, member_id, tag, description, quantity, unit_price,
     discount, amount, tax, tax_inside, tax_kind, donated, suspended, price_reason)
   SELECT gen_random_uuid(), p.id, d.place % 5 + 1, 'item', d.id, d.member_id, d.tag, d.description, 1, d.price,
     0, d.price, 0, 0, '', false, false, ''
   FROM sold d JOIN slip p ON p.sale_id = d.sale_id AND p.number = d.place / 5 + 1`,
  `INSERT INTO settlement (id, sale_id, number, gross, guild_share, net, fingerprint, by_id)
   SELECT gen_random_uuid(), s.id, 1, 0, 0, 0, repeat('0', 64), m.id
   FROM sale s, member m WHERE s.stage = 'closed' AND m.number = 100`,
  `INSERT INTO statement (id, settlement_id, number, member_id, gross, guild_share, net, heading)
   SELECT gen_random_uuid(), e.id, row_number() OVER (), m.id, 0, 0, 0, '{}' FROM settlement e, member m`,
  `INSERT INTO statement_line (receipt_line_id, statement_id, position, sold_at, tag, description, quantity, amount,
     rate, guild_share, net, donated)
   SELECT l.id, t.id, row_number() OVER (PARTITION BY t.id), r.made_at, l.tag, l.description, l.quantity, l.amount,
     20000, l.amount / 5, l.amount - l.amount / 5, false
   FROM receipt_line l JOIN receipt r ON r.id = l.receipt_id JOIN settlement e ON e.sale_id = r.sale_id
     JOIN statement t ON t.settlement_id = e.id AND t.member_id = l.member_id`,
  "COMMIT",
  "ANALYZE",
];
