import type { Check, Finding } from "./check.ts";

export const drawerMovesAreBooked: Check = {
  invariant: 4,
  words: "Every float, move of cash and cash-up stands in the ledger with exactly its amounts",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH side AS (
      SELECT 'open-till' AS kind, o.id, 'drawer/' || o.till_id AS account, o.float AS amount FROM till_session o
      UNION ALL SELECT 'open-till', o.id, 'cash-box', -o.float FROM till_session o
      UNION ALL SELECT 'cash-move', v.id, 'drawer/' || o.till_id, CASE v.kind WHEN 'paid-in' THEN v.amount ELSE -v.amount END
        FROM cash_move v JOIN till_session o ON o.id = v.till_session_id
      UNION ALL SELECT 'cash-move', v.id, CASE v.kind WHEN 'to-safe' THEN 'safe' ELSE v.kind END,
        CASE v.kind WHEN 'paid-in' THEN -v.amount ELSE v.amount END FROM cash_move v
      UNION ALL SELECT 'cash-up', c.till_session_id, 'drawer/' || o.till_id, -c.expected
        FROM cash_up c JOIN till_session o ON o.id = c.till_session_id
      UNION ALL SELECT 'cash-up', till_session_id, 'cash-box', counted FROM cash_up
      UNION ALL SELECT 'cash-up', till_session_id, 'over-short', expected - counted FROM cash_up),
    expected AS (SELECT * FROM side WHERE amount <> 0),
    booked AS (
      SELECT e.kind, e.subject_id AS id, p.account_key AS account, sum(p.amount) AS amount
      FROM journal_entry e JOIN posting p ON p.entry_id = e.id
      WHERE e.kind IN ('open-till', 'cash-move', 'cash-up') GROUP BY e.kind, e.subject_id, p.account_key)
    SELECT (SELECT count(*) FROM till_session) + (SELECT count(*) FROM cash_move) AS checked, (
      SELECT CASE kind WHEN 'open-till' THEN 'The float of session ' WHEN 'cash-up' THEN 'The cash-up of session '
          ELSE 'The move of cash ' END || id || ' books ' || coalesce(b.amount::text, 'nothing') || ' on ' || account
          || ' instead of ' || coalesce(x.amount::text, 'nothing')
      FROM expected x FULL JOIN booked b USING (kind, id, account)
      WHERE x.amount IS DISTINCT FROM b.amount ORDER BY kind, id, account LIMIT 1) AS broken`,
};

export const cashUpsFit: Check = {
  invariant: 4,
  words: "Every cash-up expected the float, the cash of its receipts and what moved without a sale",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH taken AS (
      SELECT r.till_session_id AS id, sum(d.amount) AS amount FROM receipt r JOIN receipt_tender d ON d.receipt_id = r.id
      WHERE d.kind = 'cash' GROUP BY r.till_session_id),
    moved AS (
      SELECT till_session_id AS id, sum(CASE kind WHEN 'paid-in' THEN amount ELSE -amount END) AS amount
      FROM cash_move GROUP BY till_session_id)
    SELECT (SELECT count(*) FROM cash_up) AS checked, coalesce(
      (SELECT 'Till ' || t.number || ' of ' || s.name || ' expected ' || c.expected || ' at its cash-up; float, receipts and moves give '
          || (o.float + coalesce(k.amount, 0) + coalesce(v.amount, 0))
        FROM cash_up c JOIN till_session o ON o.id = c.till_session_id JOIN till t ON t.id = o.till_id JOIN sale s ON s.id = t.sale_id
        LEFT JOIN taken k ON k.id = o.id LEFT JOIN moved v ON v.id = o.id
        WHERE c.expected <> o.float + coalesce(k.amount, 0) + coalesce(v.amount, 0) ORDER BY c.at, o.id LIMIT 1),
      (SELECT 'Till ' || t.number || ' of ' || s.name || ' was closed without a cash-up, or cashed up and left open'
        FROM till_session o JOIN till t ON t.id = o.till_id JOIN sale s ON s.id = t.sale_id
        LEFT JOIN cash_up c ON c.till_session_id = o.id
        WHERE (o.closed_at IS NULL) <> (c.till_session_id IS NULL) ORDER BY o.opened_at, o.id LIMIT 1)) AS broken`,
};
