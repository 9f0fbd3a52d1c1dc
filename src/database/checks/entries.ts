import type { Check, Finding } from "./check.ts";

export const entriesBalance: Check = {
  invariant: 1,
  words: "Every journal entry sums to zero, and so does the whole ledger",
  run: (db) => db.$queryRaw<Finding[]>`
    SELECT (SELECT count(*) FROM journal_entry) AS checked, coalesce(
      (SELECT 'Entry ' || e.number || ' (' || e.kind || ') ' ||
          CASE WHEN count(p.id) = 0 THEN 'has no postings' ELSE 'sums to ' || sum(p.amount) || ' instead of 0' END
        FROM journal_entry e LEFT JOIN posting p ON p.entry_id = e.id
        GROUP BY e.id HAVING count(p.id) = 0 OR sum(p.amount) <> 0 ORDER BY e.number LIMIT 1),
      (SELECT 'Posting ' || p.id || ' on ' || p.account_key || ' belongs to no entry'
        FROM posting p WHERE NOT EXISTS (SELECT 1 FROM journal_entry e WHERE e.id = p.entry_id)
        ORDER BY p.id LIMIT 1),
      (SELECT 'The whole ledger sums to ' || sum(amount) || ' instead of 0'
        FROM posting HAVING sum(amount) <> 0)) AS broken`,
};
