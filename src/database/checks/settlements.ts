import type { Check, Finding } from "./check.ts";

export const settlementsStand: Check = {
  invariant: 6,
  words: "Every settlement still holds exactly the lines and figures that were finalised",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH lines AS (
      SELECT s.settlement_id AS id, string_agg(concat_ws(' ', l.receipt_line_id, l.amount, l.rate,
          l.guild_share, l.net, l.donated::text, nullif(l.ground, '')), E'\n' ORDER BY l.receipt_line_id) AS words
      FROM statement s JOIN statement_line l ON l.statement_id = s.id GROUP BY s.settlement_id),
    items AS (
      SELECT s.settlement_id AS id, string_agg(concat_ws(' ', s.member_id, i.kind, i.count, i.amount, i.words,
          i.item_id, i.adjustment_id),
          E'\n' ORDER BY s.member_id, i.position) AS words
      FROM statement s JOIN statement_item i ON i.statement_id = s.id GROUP BY s.settlement_id),
    held AS (
      SELECT settlement_id AS id, string_agg(concat_ws(' ', member_id, carried, due, pay_method), E'\n' ORDER BY member_id) AS words
      FROM statement WHERE carried <> 0 OR due <> greatest(net, 0) OR pay_method IS NOT NULL GROUP BY settlement_id),
    kept AS (
      SELECT e.id AS settlement_id, encode(sha256(convert_to(concat_ws(E'\n', lines.words, items.words, held.words), 'UTF8')), 'hex')
        AS fingerprint
      FROM settlement e LEFT JOIN lines USING (id) LEFT JOIN items USING (id) LEFT JOIN held USING (id)),
    sums AS (
      SELECT settlement_id, sum(gross) AS gross, sum(guild_share) AS share, sum(card_fee) AS card, sum(fees) AS fees,
        sum(losses) AS losses, sum(adjustments) AS adjustments, sum(net) AS net FROM statement GROUP BY settlement_id)
    SELECT (SELECT count(*) FROM settlement) AS checked, coalesce(
      (SELECT 'Settlement ' || e.number || ' of ' || a.name || ' no longer holds the lines that were finalised'
        FROM settlement e JOIN sale a ON a.id = e.sale_id JOIN kept k ON k.settlement_id = e.id
        WHERE k.fingerprint <> e.fingerprint ORDER BY e.at, e.id LIMIT 1),
      (SELECT 'Settlement ' || e.number || ' of ' || a.name || ' says '
          || concat_ws('/', e.gross, e.guild_share, e.card_fee, e.fees, e.losses, e.adjustments, e.net)
          || '; its statements give ' || concat_ws('/', s.gross, s.share, s.card, s.fees, s.losses, s.adjustments, s.net)
        FROM settlement e JOIN sale a ON a.id = e.sale_id LEFT JOIN sums s ON s.settlement_id = e.id
        WHERE (e.gross, e.guild_share, e.card_fee, e.fees, e.losses, e.adjustments, e.net) IS DISTINCT FROM
          (s.gross, s.share, s.card, s.fees, s.losses, s.adjustments, s.net)
        ORDER BY e.at, e.id LIMIT 1),
      (SELECT 'There are ' || count(*) || ' statements numbered ' || min(number) || ' to ' || max(number) || ': one is missing'
        FROM statement HAVING count(*) > 0 AND (min(number) <> 1 OR max(number) <> count(*)))) AS broken`,
};

export const statementsAddUp: Check = {
  invariant: 6,
  words: "Every statement is the sum of its lines, and every line says what its receipt says",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH lines AS (
      SELECT statement_id, sum(amount) AS gross, sum(guild_share) AS share, sum(card_fee) AS card
      FROM statement_line WHERE NOT donated GROUP BY statement_id),
    items AS (
      SELECT statement_id, coalesce(sum(-amount) FILTER (WHERE kind = 'share-correction'), 0) AS share,
        coalesce(sum(-amount) FILTER (WHERE kind IN ('entry', 'late', 'missed-shift')), 0) AS fees,
        coalesce(sum(amount) FILTER (WHERE kind = 'loss'), 0) AS losses,
        coalesce(sum(amount) FILTER (WHERE kind = 'adjustment'), 0) AS adjustments
      FROM statement_item GROUP BY statement_id),
    sums AS (
      SELECT s.id, coalesce(l.gross, 0) AS gross, coalesce(l.share, 0) + coalesce(i.share, 0) AS share,
        coalesce(l.card, 0) AS card, coalesce(i.fees, 0) AS fees, coalesce(i.losses, 0) AS losses,
        coalesce(i.adjustments, 0) AS adjustments
      FROM statement s LEFT JOIN lines l ON l.statement_id = s.id LEFT JOIN items i ON i.statement_id = s.id),
    chain AS (
      SELECT number, carried, coalesce(lag(net + carried - due) OVER (PARTITION BY member_id ORDER BY number), 0) AS "left"
      FROM statement)
    SELECT (SELECT count(*) FROM statement) AS checked, coalesce(
      (SELECT 'Statement ' || s.number || ' says '
          || concat_ws('/', s.gross, s.guild_share, s.card_fee, s.fees, s.losses, s.adjustments) || '; its lines give '
          || concat_ws('/', x.gross, x.share, x.card, x.fees, x.losses, x.adjustments)
        FROM statement s JOIN sums x ON x.id = s.id
        WHERE (s.gross, s.guild_share, s.card_fee, s.fees, s.losses, s.adjustments) IS DISTINCT FROM
          (x.gross, x.share, x.card, x.fees, x.losses, x.adjustments)
        ORDER BY s.number LIMIT 1),
      (SELECT 'Statement ' || number || ' carries ' || carried || '; the one before left ' || "left"
        FROM chain WHERE carried <> "left" ORDER BY number LIMIT 1),
      (SELECT 'Item ' || i.position || ' of statement ' || s.number || ' differs from its adjustment'
        FROM statement_item i JOIN statement s ON s.id = i.statement_id JOIN settlement e ON e.id = s.settlement_id
        JOIN adjustment a ON a.id = i.adjustment_id
        WHERE (i.amount, s.member_id, e.sale_id) IS DISTINCT FROM (a.amount, a.member_id, a.sale_id)
          OR position(a.reason IN i.words) = 0
        ORDER BY s.number, i.position LIMIT 1),
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
      SELECT 'settlement' AS kind, settlement_id AS subject, 'member/' || member_id AS account,
        guild_share + card_fee + fees - losses AS amount FROM statement
      UNION ALL SELECT 'settlement', id, 'guild-share', -guild_share FROM settlement
      UNION ALL SELECT 'settlement', id, 'card-fees', -card_fee FROM settlement
      UNION ALL SELECT 'settlement', id, 'fees', -fees FROM settlement
      UNION ALL SELECT 'settlement', id, 'losses', losses FROM settlement
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
      (SELECT 'Payout ' || p.id || ' pays ' || p.amount || ' for statement ' || s.number || ' of ' || s.due
        FROM payout p JOIN statement s ON s.id = p.statement_id WHERE p.amount <> s.due ORDER BY s.number LIMIT 1),
      (SELECT 'Statement ' || s.number || ' is paid ' || count(*) || ' times'
        FROM payout p JOIN statement s ON s.id = p.statement_id
        WHERE NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id)
        GROUP BY s.number HAVING count(*) > 1 ORDER BY s.number LIMIT 1)) AS broken`,
};
