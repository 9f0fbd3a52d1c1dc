import type { Check, Finding } from "./check.ts";

export const bankingIsBooked: Check = {
  invariant: 3,
  words: "Every deposit, card total and void of one stands in the ledger with exactly its amounts",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH made AS (
      SELECT 'deposit' AS kind, id, 'bank' AS account, amount FROM deposit
      UNION ALL SELECT 'deposit', id, source, -amount FROM deposit
      UNION ALL SELECT 'card-total', id, 'bank', gross - fee FROM card_total
      UNION ALL SELECT 'card-total', id, 'card-fees', fee FROM card_total
      UNION ALL SELECT 'card-total', id, 'card-clearing', -gross FROM card_total),
    side AS (
      SELECT * FROM made
      UNION ALL SELECT kind || '-void', id, account, -amount FROM made
        WHERE id IN (SELECT deposit_id FROM deposit_void UNION ALL SELECT card_total_id FROM card_total_void)),
    expected AS (SELECT * FROM side WHERE amount <> 0),
    booked AS (
      SELECT e.kind, e.subject_id AS id, p.account_key AS account, sum(p.amount) AS amount
      FROM journal_entry e JOIN posting p ON p.entry_id = e.id
      WHERE e.kind IN ('deposit', 'deposit-void', 'card-total', 'card-total-void') GROUP BY e.kind, e.subject_id, p.account_key)
    SELECT (SELECT count(*) FROM deposit) + (SELECT count(*) FROM card_total) AS checked, (
      SELECT 'The ' || kind || ' ' || id || ' books ' || coalesce(b.amount::text, 'nothing') || ' on ' || account
        || ' instead of ' || coalesce(x.amount::text, 'nothing')
      FROM expected x FULL JOIN booked b USING (kind, id, account)
      WHERE x.amount IS DISTINCT FROM b.amount ORDER BY kind, id, account LIMIT 1) AS broken`,
};

export const takingsTie: Check = {
  invariant: 3,
  words: "What each sale took by each tender and each tax is what its accounts took in",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH rows AS (
      SELECT r.sale_id, CASE o.kind WHEN 'cash' THEN 'drawer' WHEN 'cheque' THEN 'cheques' WHEN 'card' THEN 'card-clearing'
        WHEN 'exchange' THEN 'exchange' ELSE 'other-tender' END AS account, o.amount
      FROM receipt r JOIN receipt_tender o ON o.receipt_id = r.id
      UNION ALL SELECT r.sale_id, 'tax/' || x.code, -x.tax FROM receipt r JOIN receipt_tax x ON x.receipt_id = r.id),
    taken AS (SELECT sale_id, account, sum(amount) AS amount FROM rows GROUP BY sale_id, account HAVING sum(amount) <> 0),
    booked AS (
      SELECT e.sale_id, split.account, sum(p.amount) AS amount
      FROM journal_entry e JOIN posting p ON p.entry_id = e.id
      CROSS JOIN LATERAL (SELECT CASE WHEN p.account_key LIKE 'drawer/%' THEN 'drawer' ELSE p.account_key END AS account) split
      WHERE e.kind = 'receipt' AND (split.account LIKE 'tax/%'
        OR split.account IN ('drawer', 'cheques', 'card-clearing', 'other-tender', 'exchange'))
      GROUP BY e.sale_id, split.account HAVING sum(p.amount) <> 0)
    SELECT (SELECT count(*) FROM taken) AS checked, (
      SELECT 'The receipts of ' || coalesce(s.name, sale_id::text) || ' put ' || coalesce(t.amount, 0) || ' on ' || account
        || '; its accounts took in ' || coalesce(b.amount, 0)
      FROM taken t FULL JOIN booked b USING (sale_id, account) LEFT JOIN sale s ON s.id = sale_id
      WHERE t.amount IS DISTINCT FROM b.amount ORDER BY s.name, account LIMIT 1) AS broken`,
};
