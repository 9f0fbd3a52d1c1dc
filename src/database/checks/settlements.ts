import type { Check, Finding } from "./check.ts";

export const settlementsStand: Check = {
  invariant: 6,
  words: "Every settlement still holds exactly the lines and figures that were finalised",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH kept AS (
      SELECT s.settlement_id, encode(sha256(convert_to(string_agg(concat_ws(' ', l.receipt_line_id, l.amount, l.rate,
          l.guild_share, l.net, l.donated::text), E'\n' ORDER BY l.receipt_line_id), 'UTF8')), 'hex') AS fingerprint
      FROM statement s JOIN statement_line l ON l.statement_id = s.id GROUP BY s.settlement_id),
    sums AS (
      SELECT settlement_id, sum(gross) AS gross, sum(guild_share) AS share, sum(net) AS net FROM statement GROUP BY settlement_id)
    SELECT (SELECT count(*) FROM settlement) AS checked, coalesce(
      (SELECT 'Settlement ' || e.number || ' of ' || a.name || ' no longer holds the lines that were finalised'
        FROM settlement e JOIN sale a ON a.id = e.sale_id LEFT JOIN kept k ON k.settlement_id = e.id
        WHERE coalesce(k.fingerprint, encode(sha256(''), 'hex')) <> e.fingerprint ORDER BY e.at, e.id LIMIT 1),
      (SELECT 'Settlement ' || e.number || ' of ' || a.name || ' says ' || concat_ws('/', e.gross, e.guild_share, e.net)
          || '; its statements give ' || concat_ws('/', coalesce(s.gross, 0), coalesce(s.share, 0), coalesce(s.net, 0))
        FROM settlement e JOIN sale a ON a.id = e.sale_id LEFT JOIN sums s ON s.settlement_id = e.id
        WHERE (e.gross, e.guild_share, e.net) IS DISTINCT FROM (coalesce(s.gross, 0), coalesce(s.share, 0), coalesce(s.net, 0))
        ORDER BY e.at, e.id LIMIT 1),
      (SELECT 'There are ' || count(*) || ' statements numbered ' || min(number) || ' to ' || max(number) || ': one is missing'
        FROM statement HAVING count(*) > 0 AND (min(number) <> 1 OR max(number) <> count(*)))) AS broken`,
};

export const statementsAddUp: Check = {
  invariant: 6,
  words: "Every statement is the sum of its lines, and every line says what its receipt says",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH sums AS (
      SELECT statement_id, sum(amount) AS gross, sum(guild_share) AS share, sum(net) AS net
      FROM statement_line WHERE NOT donated GROUP BY statement_id)
    SELECT (SELECT count(*) FROM statement) AS checked, coalesce(
      (SELECT 'Statement ' || s.number || ' says ' || concat_ws('/', s.gross, s.guild_share, s.net) || '; its lines give '
          || concat_ws('/', coalesce(l.gross, 0), coalesce(l.share, 0), coalesce(l.net, 0))
        FROM statement s LEFT JOIN sums l ON l.statement_id = s.id
        WHERE (s.gross, s.guild_share, s.net) IS DISTINCT FROM (coalesce(l.gross, 0), coalesce(l.share, 0), coalesce(l.net, 0))
        ORDER BY s.number LIMIT 1),
      (SELECT 'Line ' || l.position || ' of statement ' || s.number || ' (item ' || l.tag || ') differs from its receipt'
        FROM statement_line l JOIN statement s ON s.id = l.statement_id JOIN settlement e ON e.id = s.settlement_id
        LEFT JOIN credited_line o ON o.id = l.receipt_line_id LEFT JOIN receipt r ON r.id = o.receipt_id
        WHERE (l.tag, l.description, l.quantity, l.amount, l.donated, l.sold_at, s.member_id, e.sale_id) IS DISTINCT FROM
          (o.tag, o.description, o.quantity, o.amount, o.donated, r.made_at, o.member_id, r.sale_id)
        ORDER BY s.number, l.position LIMIT 1)) AS broken`,
};

export const settlementsAreBooked: Check = {
  invariant: 6,
  words: "Every settlement and payout stands in the ledger with exactly its figures",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH side AS (
      SELECT 'settlement' AS kind, settlement_id AS subject, 'member/' || member_id AS account, guild_share AS amount FROM statement
      UNION ALL SELECT 'settlement', id, 'guild-share', -guild_share FROM settlement
      UNION ALL SELECT 'payout', p.id, 'member/' || s.member_id, p.amount FROM payout p JOIN statement s ON s.id = p.statement_id
      UNION ALL SELECT 'payout', id, CASE method WHEN 'cash' THEN 'cash-box' ELSE 'bank' END, -amount FROM payout
      UNION ALL SELECT 'payout-void', p.id, 'member/' || s.member_id, -p.amount
        FROM payout_void v JOIN payout p ON p.id = v.payout_id JOIN statement s ON s.id = p.statement_id
      UNION ALL SELECT 'payout-void', p.id, CASE p.method WHEN 'cash' THEN 'cash-box' ELSE 'bank' END, p.amount
        FROM payout_void v JOIN payout p ON p.id = v.payout_id),
    expected AS (
      SELECT kind, subject, account, sum(amount) AS amount FROM side GROUP BY kind, subject, account HAVING sum(amount) <> 0),
    booked AS (
      SELECT e.kind, e.subject_id AS subject, p.account_key AS account, sum(p.amount) AS amount
      FROM journal_entry e JOIN posting p ON p.entry_id = e.id
      WHERE e.kind IN ('settlement', 'payout', 'payout-void') GROUP BY e.kind, e.subject_id, p.account_key)
    SELECT (SELECT count(*) FROM settlement) + (SELECT count(*) FROM payout) AS checked, (
      SELECT 'The ' || kind || ' ' || subject || ' books ' || coalesce(b.amount::text, 'nothing') || ' on ' || account
        || ' instead of ' || coalesce(x.amount::text, 'nothing')
      FROM expected x FULL JOIN booked b USING (kind, subject, account)
      WHERE x.amount IS DISTINCT FROM b.amount ORDER BY kind DESC, subject, account LIMIT 1) AS broken`,
};

export const payoutsFit: Check = {
  invariant: 6,
  words: "Every payout pays its statement whole, and no statement is paid twice",
  run: (db) => db.$queryRaw<Finding[]>`
    SELECT (SELECT count(*) FROM payout) AS checked, coalesce(
      (SELECT 'Payout ' || p.id || ' pays ' || p.amount || ' for statement ' || s.number || ' of ' || s.net
        FROM payout p JOIN statement s ON s.id = p.statement_id WHERE p.amount <> s.net ORDER BY s.number LIMIT 1),
      (SELECT 'Statement ' || s.number || ' is paid ' || count(*) || ' times'
        FROM payout p JOIN statement s ON s.id = p.statement_id
        WHERE NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id)
        GROUP BY s.number HAVING count(*) > 1 ORDER BY s.number LIMIT 1)) AS broken`,
};
