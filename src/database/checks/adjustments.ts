import type { Check, Finding } from "./check.ts";

export const adjustmentsAreBooked: Check = {
  invariant: 3,
  words: "Every adjustment stands in the ledger with exactly its figure, taken back at most whole",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH side AS (
      SELECT id, 'member/' || member_id AS account, -amount AS amount FROM adjustment
      UNION ALL SELECT id, 'adjustments', amount FROM adjustment),
    booked AS (
      SELECT e.subject_id AS id, p.account_key AS account, sum(p.amount) AS amount
      FROM journal_entry e JOIN posting p ON p.entry_id = e.id
      WHERE e.kind = 'adjustment' GROUP BY e.subject_id, p.account_key)
    SELECT (SELECT count(*) FROM adjustment) AS checked, coalesce(
      (SELECT 'The adjustment ' || id || ' books ' || coalesce(b.amount::text, 'nothing') || ' on ' || account
          || ' instead of ' || coalesce(s.amount::text, 'nothing')
        FROM side s FULL JOIN booked b USING (id, account)
        WHERE s.amount IS DISTINCT FROM b.amount ORDER BY id, account LIMIT 1),
      (SELECT 'The adjustment ' || o.id || ' is not the opposite of what it takes back'
        FROM adjustment o LEFT JOIN adjustment a ON a.id = o.takes_back_id
        WHERE o.takes_back_id IS NOT NULL
          AND (a.sale_id, a.member_id, a.amount) IS DISTINCT FROM (o.sale_id, o.member_id, -o.amount)
        ORDER BY o.id LIMIT 1)) AS broken`,
};
