import type { Check, Finding } from "./check.ts";

export const correctionsExplain: Check = {
  invariant: 5,
  words: "Every return and void says why, who and what it takes back, never more than was sold",
  run: (db) => db.$queryRaw<Finding[]>`
    SELECT (SELECT count(*) FROM receipt WHERE kind <> 'sale') AS checked, coalesce(
      (SELECT 'Receipt ' || t.number || '-' || r.number || ' takes something back without a reason or an original'
        FROM receipt r JOIN till t ON t.id = r.till_id
        WHERE r.kind <> 'sale' AND (r.reason = '' OR NOT (r.awaits_id IS NOT NULL OR EXISTS (SELECT 1 FROM receipt o WHERE o.id = r.reverses_id)))
        ORDER BY r.at, r.id LIMIT 1),
      (SELECT 'The line of item ' || o.tag || ' sold ' || o.quantity || ' and took back ' || -sum(b.quantity)
        FROM receipt_line b JOIN receipt_line o ON o.id = b.reverses_line_id
        GROUP BY o.id HAVING o.quantity + sum(b.quantity) < 0 OR o.amount + sum(b.amount) < 0 OR o.tax + sum(b.tax) < 0
          OR bool_or((b.item_id, b.unit_price, b.donated) IS DISTINCT FROM (o.item_id, o.unit_price, o.donated))
        ORDER BY o.tag LIMIT 1)) AS broken`,
};

export const deedsHavePeople: Check = {
  invariant: 5,
  words: "Every recorded deed has its person and its line in the audit list",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH deed AS (
      SELECT 'Receipt' AS what, id, cashier_id AS by_id, at, true AS audited FROM receipt
      UNION ALL SELECT 'Settlement', id, by_id, at, true FROM settlement
      UNION ALL SELECT 'Payout', id, by_id, at, true FROM payout
      UNION ALL SELECT 'Void of payout', payout_id, by_id, at, true FROM payout_void
      UNION ALL SELECT 'Adjustment', id, by_id, at, true FROM adjustment
      UNION ALL SELECT 'Move of cash', id, by_id, at, true FROM cash_move
      UNION ALL SELECT 'Deposit', id, by_id, at, true FROM deposit
      UNION ALL SELECT 'Void of deposit', deposit_id, by_id, at, true FROM deposit_void
      UNION ALL SELECT 'Card total', id, by_id, at, true FROM card_total
      UNION ALL SELECT 'Void of card total', card_total_id, by_id, at, true FROM card_total_void
      UNION ALL SELECT 'Paying run', id, by_id, at, true FROM paying_run
      UNION ALL SELECT 'Entry', id, by_id, at, false FROM journal_entry)
    SELECT (SELECT count(*) FROM deed) AS checked, coalesce(
      (SELECT what || ' ' || id || ' names nobody we know' FROM deed d
        WHERE NOT EXISTS (SELECT 1 FROM member m WHERE m.id = d.by_id) ORDER BY at, id LIMIT 1),
      (SELECT what || ' ' || id || ' is not in the audit list' FROM deed d
        WHERE audited AND NOT EXISTS (SELECT 1 FROM audit a WHERE a.subject_id = d.id::text) ORDER BY at, id LIMIT 1),
      (SELECT 'Receipt ' || r.id || ' is ' || r.total || ', and was ' || (a.detail ->> 'total') || ' when it was recorded'
        FROM receipt r JOIN audit a ON a.subject_id = r.id::text AND a.deed = 'record-receipt'
        WHERE (a.detail ->> 'total')::bigint <> r.total ORDER BY r.at, r.id LIMIT 1)) AS broken`,
};

export const rowsAreGuarded: Check = {
  invariant: 5,
  words: "The guards that keep recorded rows from being changed or deleted are in place",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH ledger AS (SELECT unnest(ARRAY['agreement', 'acceptance', 'stage_change', 'movement', 'check_in', 'cash_up',
      'receipt', 'receipt_line', 'receipt_tender', 'discrepancy', 'journal_entry', 'posting', 'settlement', 'statement',
      'statement_line', 'statement_unsold', 'payout', 'payout_void', 'keyed_deed', 'audit', 'cash_move',
      'receipt_tax', 'identified', 'paying_run', 'paying_run_item', 'reminder', 'adjustment', 'looked_into',
      'sale_policy', 'settlement_proposal', 'statement_item',
      'deposit', 'deposit_void', 'card_total', 'card_total_void']) AS name)
    SELECT (SELECT count(*) FROM ledger) AS checked, (
      SELECT 'The table ' || l.name || ' can be changed: its guard ' || g.name || ' is off or missing'
      FROM ledger l CROSS JOIN (VALUES ('keep_rows'), ('keep_table')) AS g(name)
      WHERE NOT EXISTS (SELECT 1 FROM pg_trigger t WHERE t.tgrelid = to_regclass(l.name) AND t.tgname = g.name
        AND t.tgenabled IN ('O', 'A'))
      ORDER BY l.name LIMIT 1) AS broken`,
};
