import { firstPolicy } from "../../rules/policy/policy.ts";
import { flatTax } from "../../rules/tax/tax-rules.ts";

/** What fills the bench's hall: set after set, so that ten times the data takes seconds. */
export const hallSql = (itemCount: number, passphraseHash: string, tillCount: number): string[] => [
  `INSERT INTO guild (id, name, currency, locale, time_zone)
   VALUES (1, 'Bench weavers', 'USD', 'en-US', 'America/Chicago')`,
  `INSERT INTO kind (id, code, name, position) VALUES (gen_random_uuid(), 'scarf', 'Scarf', 1)`,
  `INSERT INTO member (id, number, name, roles)
   SELECT gen_random_uuid(), n, 'Weaver ' || n, ARRAY['member']
   FROM generate_series(100, 999) n`,
  `UPDATE member SET roles = ARRAY['cashier'], passphrase_hash = '${passphraseHash}'
   WHERE number = 100`,
  `INSERT INTO sale (id, name, first_day, last_day, entry_deadline, tax_rules, stage)
   VALUES (gen_random_uuid(), 'Bench', '2026-11-27', '2026-11-29', '2026-11-20', '${JSON.stringify(flatTax(8_250, "Sales tax"))}', 'selling')`,
  `INSERT INTO sale_policy (sale_id, version, policy)
   SELECT id, 1, '${JSON.stringify(firstPolicy(20_000))}' FROM sale`,
  `INSERT INTO till (id, sale_id, number, name)
   SELECT gen_random_uuid(), s.id, n, '' FROM sale s, generate_series(1, ${tillCount}) n`,
  `INSERT INTO till_session (id, till_id, float, opened_by_id)
   SELECT gen_random_uuid(), t.id, 0, m.id FROM till t, member m WHERE m.number = 100`,
  "BEGIN",
  `INSERT INTO item (id, sale_id, member_id, number, tag, kind_id, description, fibres, price, quantity)
   SELECT gen_random_uuid(), s.id, m.id, n.number,
     n.payload || lpad((98 - n.payload::bigint * 100 % 97)::text, 2, '0'), k.id, 'Scarf ' || n.payload,
     '[{"fibre":"wool","percent":100}]', 4500, 99
   FROM (SELECT 100 + i % 900 AS owner, 1 + i / 900 AS number,
       (100 + i % 900)::text || lpad((1 + i / 900)::text, 3, '0') AS payload
     FROM generate_series(0, ${itemCount - 1}) i) n
     JOIN member m ON m.number = n.owner, sale s, kind k`,
  moved("entered", "outside", "member"),
  moved("checked-in", "member", "floor"),
  "COMMIT",
  // Only what is full by now: figures about empty tables would make every later plan a bad one.
  "ANALYZE item, item_count, member, movement, account",
];

const moved = (kind: string, from: string, to: string): string =>
  `INSERT INTO movement (item_id, kind, from_place, to_place, quantity, by_id)
   SELECT id, '${kind}', '${from}', '${to}', quantity, member_id FROM item`;
