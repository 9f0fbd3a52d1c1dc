import type { Check, Finding } from "./check.ts";

export const runsFit: Check = {
  invariant: 3,
  words:
    "Every payment of a paying run waits, was dropped with a reason, or is the payout it became",
  run: (db) => db.$queryRaw<Finding[]>`
    SELECT (SELECT count(*) FROM paying_run_item) AS checked, coalesce(
      (SELECT 'Payment ' || i.position || ' of paying run ' || r.number || ' says ' || i.amount || ' by ' || r.method
          || ', and its payout ' || coalesce(p.amount || ' by ' || p.method, 'is missing')
        FROM paying_run_item i JOIN paying_run r ON r.id = i.run_id LEFT JOIN payout p ON p.id = i.payout_id
        WHERE i.outcome = 'paid' AND (p.statement_id, p.amount, p.method, p.reference)
          IS DISTINCT FROM (i.statement_id, i.amount, r.method, i.reference)
        ORDER BY r.number, i.position LIMIT 1),
      (SELECT 'Payment ' || i.position || ' of paying run ' || r.number || ' waits, and its statement is '
          || CASE WHEN s.due = i.amount THEN 'paid' ELSE 'another amount' END
        FROM paying_run_item i JOIN paying_run r ON r.id = i.run_id JOIN statement s ON s.id = i.statement_id
        WHERE i.outcome IS NULL AND (s.due <> i.amount OR EXISTS (SELECT 1 FROM payout p WHERE p.statement_id = s.id
          AND NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id)))
        ORDER BY r.number, i.position LIMIT 1),
      (SELECT 'There are ' || count(*) || ' paying runs numbered ' || min(number) || ' to ' || max(number) || ': one is missing'
        FROM paying_run HAVING count(*) > 0 AND (min(number) <> 1 OR max(number) <> count(*)))) AS broken`,
};
