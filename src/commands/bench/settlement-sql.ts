import type { Policy } from "../../rules/policy/policy.ts";
import { firstPolicy } from "../../rules/policy/policy.ts";
import { flatTax } from "../../rules/tax/tax-rules.ts";

export const linesEach = 50;

const first = firstPolicy(30_000);

/** A policy with something of everything that every line or every member is asked for. */
const policy: Policy = {
  ...first,
  rates: { ...first.rates, hours: [{ fromMinutes: 120, rate: 20_000 }] },
  fees: { ...first.fees, entry: 500 },
  cardFee: { way: "price", rate: 2_900, fixed: 0 },
};

/**
 * A sale that waits for its settlement: every member sold one piece of each of fifty items, five
 * lines to a receipt, every second receipt paid by card. The rows come set after set with the
 * guards off, as they would stand after months of deeds.
 */
export const settlementSql = (members: number): string[] => [
  `INSERT INTO guild (id, name, currency, locale, time_zone)
   VALUES (1, 'Bench weavers', 'USD', 'en-US', 'America/Chicago')`,
  "INSERT INTO kind (id, code, name, position) VALUES (gen_random_uuid(), 'scarf', 'Scarf', 1)",
  `INSERT INTO member (id, number, name, roles)
   SELECT gen_random_uuid(), 100 + n, 'Weaver ' || n, ARRAY['member', 'treasurer']
   FROM generate_series(0, ${members - 1}) n`,
  `INSERT INTO sale (id, name, first_day, last_day, entry_deadline, tax_rules, stage)
   VALUES (gen_random_uuid(), 'Bench', '2026-11-27', '2026-11-29', '2099-01-01', '${JSON.stringify(flatTax(8_250, "Sales tax"))}', 'settling')`,
  `INSERT INTO sale_policy (sale_id, version, policy)
   SELECT id, 1, '${JSON.stringify(policy)}' FROM sale`,
  "INSERT INTO till (id, sale_id, number, name) SELECT gen_random_uuid(), id, 1, '' FROM sale",
  `INSERT INTO till_session (id, till_id, float, opened_by_id)
   SELECT gen_random_uuid(), t.id, 0, m.id FROM till t, member m WHERE m.number = 100`,
  "BEGIN",
  "SET LOCAL session_replication_role = replica",
  `INSERT INTO item (id, sale_id, member_id, number, tag, kind_id, description, fibres, price, quantity)
   SELECT gen_random_uuid(), s.id, m.id, n, (10000000 + m.number * ${linesEach} + n)::text, k.id,
     'Scarf ' || n, '[{"fibre":"wool","percent":100}]', 1000 + 37 * n, 2
   FROM member m, generate_series(1, ${linesEach}) n, sale s, kind k`,
  "INSERT INTO item_count (item_id, entered, with_buyer, on_floor) SELECT id, 2, 1, 1 FROM item",
  // Pieces of five members stand on each receipt.
  `CREATE TEMP TABLE sold ON COMMIT DROP AS
     SELECT i.*, (i.number - 1) * ${members / 5} + (m.number - 100) / 5 + 1 AS receipt, (m.number - 100) % 5 + 1 AS position
     FROM item i JOIN member m ON m.id = i.member_id`,
  `CREATE TEMP TABLE slip ON COMMIT DROP AS
     SELECT receipt AS number, gen_random_uuid() AS id, sum(price) AS price FROM sold GROUP BY receipt`,
  `INSERT INTO receipt (id, sale_id, till_id, till_session_id, number, kind, subtotal, tax, total, fingerprint, cashier_id)
   SELECT p.id, s.id, t.id, o.id, p.number, 'sale', p.price, 0, p.price, repeat('0', 64), o.opened_by_id
   FROM slip p, sale s, till t, till_session o`,
  "UPDATE till_session SET closed_at = now()",
  `INSERT INTO receipt_line (id, receipt_id, position, kind, item_id, member_id, tag, description, quantity, unit_price,
     discount, amount, tax, tax_inside, tax_kind, donated, suspended, price_reason)
   SELECT gen_random_uuid(), p.id, d.position, 'item', d.id, d.member_id, d.tag, d.description, 1, d.price,
     0, d.price, 0, 0, 'scarf', false, false, '' FROM sold d JOIN slip p ON p.number = d.receipt`,
  `INSERT INTO receipt_tender (receipt_id, kind, amount)
   SELECT id, CASE number % 2 WHEN 0 THEN 'card' ELSE 'cash' END, price FROM slip`,
  `INSERT INTO movement (item_id, kind, from_place, to_place, quantity, receipt_line_id, by_id)
   SELECT item_id, 'sold', 'floor', 'buyer', 1, id, member_id FROM receipt_line`,
  "COMMIT",
  "ANALYZE",
];

/** What a member's lines come to and what the guild has of it: the least that a database can do. */
export const oneAggregate = `SELECT l.member_id, sum(l.amount) AS gross, sum(round(l.amount * 0.2)) AS guild_share
  FROM receipt r JOIN receipt_line l ON l.receipt_id = r.id
  WHERE r.sale_id = (SELECT id FROM sale) AND NOT l.donated GROUP BY l.member_id`;
