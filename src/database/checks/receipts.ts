import type { Check, Finding } from "./check.ts";

export const receiptsRunOn: Check = {
  invariant: 4,
  words: "Receipt numbers of each till run from 1 without a gap",
  run: (db) => db.$queryRaw<Finding[]>`
    SELECT (SELECT count(*) FROM receipt) AS checked, (
      SELECT 'Till ' || t.number || ' of ' || s.name || ' has ' || count(*) || ' receipts numbered '
        || min(r.number) || ' to ' || max(r.number)
      FROM receipt r JOIN till t ON t.id = r.till_id JOIN sale s ON s.id = t.sale_id
      GROUP BY t.id, s.id HAVING min(r.number) <> 1 OR max(r.number) <> count(*)
      ORDER BY s.name, t.number LIMIT 1) AS broken`,
};

export const receiptsAddUp: Check = {
  invariant: 4,
  words: "Every receipt is the sum of its lines and of its tenders",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH lines AS (SELECT receipt_id, sum(amount) AS amount, sum(tax) AS tax FROM receipt_line GROUP BY receipt_id),
    tenders AS (SELECT receipt_id, sum(amount) AS amount FROM receipt_tender GROUP BY receipt_id),
    taxes AS (SELECT receipt_id, sum(tax) AS tax FROM receipt_tax GROUP BY receipt_id)
    SELECT (SELECT count(*) FROM receipt) AS checked, coalesce(
      (SELECT 'Receipt ' || t.number || '-' || r.number || ' says ' || concat_ws(' + ', r.subtotal, r.tax) || ' = '
          || r.total || '; its lines give ' || coalesce(concat_ws(' + ', l.amount, l.tax), 'nothing')
          || ' and its tenders ' || coalesce(o.amount::text, 'nothing')
        FROM receipt r JOIN till t ON t.id = r.till_id
        LEFT JOIN lines l ON l.receipt_id = r.id LEFT JOIN tenders o ON o.receipt_id = r.id
        LEFT JOIN taxes x ON x.receipt_id = r.id
        WHERE (r.subtotal, r.tax, r.tax, r.total + r.rounding) IS DISTINCT FROM (l.amount, l.tax, coalesce(x.tax, 0), o.amount)
        ORDER BY r.at, r.id LIMIT 1),
      (SELECT 'Line ' || l.position || ' of receipt ' || t.number || '-' || r.number || ' names item ' || l.tag
          || ' of another sale or member'
        FROM receipt_line l JOIN receipt r ON r.id = l.receipt_id JOIN till t ON t.id = r.till_id
        LEFT JOIN item i ON i.id = l.item_id
        WHERE t.sale_id <> r.sale_id OR (l.kind = 'item' AND (i.sale_id, i.member_id) IS DISTINCT FROM (r.sale_id, l.member_id))
        ORDER BY r.at, r.id, l.position LIMIT 1)) AS broken`,
};

export const receiptsAreBooked: Check = {
  invariant: 4,
  words: "Every receipt stands in the ledger with exactly its tenders, lines and tax",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH side AS (
      SELECT o.receipt_id, CASE o.kind WHEN 'cash' THEN 'drawer/' || r.till_id WHEN 'cheque' THEN 'cheques'
        WHEN 'card' THEN 'card-clearing' WHEN 'exchange' THEN 'exchange' ELSE 'other-tender' END AS account, o.amount
      FROM receipt_tender o JOIN receipt r ON r.id = o.receipt_id
      UNION ALL SELECT receipt_id, CASE WHEN suspended THEN 'suspense' WHEN donated THEN 'donations'
        WHEN kind = 'goods' OR member_id IS NULL THEN 'guild-goods' ELSE 'member/' || member_id END, -amount FROM receipt_line
      UNION ALL SELECT receipt_id, 'tax/' || code, -tax FROM receipt_tax
      UNION ALL SELECT id, 'cash-rounding', -rounding FROM receipt),
    expected AS (
      SELECT receipt_id, account, sum(amount) AS amount FROM side GROUP BY receipt_id, account HAVING sum(amount) <> 0),
    booked AS (
      SELECT e.subject_id AS receipt_id, p.account_key AS account, sum(p.amount) AS amount
      FROM journal_entry e JOIN posting p ON p.entry_id = e.id WHERE e.kind = 'receipt' GROUP BY e.subject_id, p.account_key)
    SELECT (SELECT count(*) FROM receipt) AS checked, (
      SELECT 'Receipt ' || coalesce(t.number || '-' || r.number, receipt_id::text) || ' books '
        || coalesce(b.amount::text, 'nothing') || ' on ' || account || ' instead of ' || coalesce(x.amount::text, 'nothing')
      FROM expected x FULL JOIN booked b USING (receipt_id, account)
      LEFT JOIN receipt r ON r.id = receipt_id LEFT JOIN till t ON t.id = r.till_id
      WHERE x.amount IS DISTINCT FROM b.amount ORDER BY r.at, receipt_id, account LIMIT 1) AS broken`,
};

export const linesMovePieces: Check = {
  invariant: 4,
  words: "Every receipt line moved exactly the pieces it names",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH moved AS (
      SELECT receipt_line_id, min(item_id::text) AS item, count(DISTINCT item_id) AS items,
        sum(CASE kind WHEN 'sold' THEN quantity ELSE -quantity END) AS quantity
      FROM movement WHERE receipt_line_id IS NOT NULL GROUP BY receipt_line_id),
    known AS (
      SELECT l.id, l.tag, l.quantity, coalesce(i.item_id, l.item_id) AS item_id
      FROM receipt_line l LEFT JOIN identified i ON i.line_id = l.id
      WHERE CASE WHEN l.suspended THEN i.item_id IS NOT NULL ELSE l.kind = 'item' END)
    SELECT (SELECT count(*) FROM receipt_line) AS checked, (
      SELECT 'The line of item ' || coalesce(l.tag, '(no line)') || ' names ' || coalesce(l.quantity, 0)
        || ' pieces and moved ' || coalesce(m.quantity, 0)
      FROM known l FULL JOIN moved m ON m.receipt_line_id = l.id
      WHERE l.quantity IS DISTINCT FROM m.quantity OR m.items <> 1 OR m.item <> l.item_id::text
      ORDER BY l.tag LIMIT 1) AS broken`,
};
