import type { Check, Finding } from "./check.ts";

export const membersAreOwed: Check = {
  invariant: 3,
  words:
    "Each member's balance is what sold, less share and fees, with losses and adjustments, less what was paid out",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH sold AS (SELECT member_id, sum(amount) AS amount FROM credited_line WHERE NOT donated GROUP BY member_id),
    shares AS (
      SELECT member_id, sum(guild_share + card_fee + fees - losses) AS amount FROM statement GROUP BY member_id),
    adjusted AS (SELECT member_id, sum(amount) AS amount FROM adjustment GROUP BY member_id),
    paid AS (
      SELECT s.member_id, sum(p.amount) AS amount FROM payout p JOIN statement s ON s.id = p.statement_id
      WHERE NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id) GROUP BY s.member_id),
    booked AS (SELECT account_key, -sum(amount) AS amount FROM posting WHERE account_key LIKE 'member/%' GROUP BY account_key),
    sides AS (
      SELECT m.number, coalesce(sold.amount, 0) - coalesce(shares.amount, 0)
          + coalesce(adjusted.amount, 0) - coalesce(paid.amount, 0) AS owed,
        coalesce(booked.amount, 0) AS booked
      FROM member m LEFT JOIN sold ON sold.member_id = m.id LEFT JOIN shares ON shares.member_id = m.id
      LEFT JOIN adjusted ON adjusted.member_id = m.id
      LEFT JOIN paid ON paid.member_id = m.id LEFT JOIN booked ON booked.account_key = 'member/' || m.id)
    SELECT (SELECT count(*) FROM member) AS checked,
      (SELECT 'Member ' || number || ' is owed ' || owed || ' by receipts, statements and payouts, and '
        || booked || ' by the ledger' FROM sides WHERE owed <> booked ORDER BY number LIMIT 1) AS broken`,
};

export const drawersAreEmpty: Check = {
  invariant: 3,
  words: "A till that is cashed up holds nothing",
  run: (db) => db.$queryRaw<Finding[]>`
    SELECT (SELECT count(*) FROM till) AS checked, (
      SELECT 'Till ' || t.number || ' of ' || s.name || ' is cashed up and its drawer still holds ' || sum(p.amount)
      FROM till t JOIN sale s ON s.id = t.sale_id JOIN posting p ON p.account_key = 'drawer/' || t.id
      WHERE NOT EXISTS (SELECT 1 FROM till_session n WHERE n.till_id = t.id AND n.closed_at IS NULL)
      GROUP BY t.id, s.id HAVING sum(p.amount) <> 0 ORDER BY s.name, t.number LIMIT 1) AS broken`,
};
