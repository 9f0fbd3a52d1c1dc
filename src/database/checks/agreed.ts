import type { Check, Finding } from "./check.ts";

/** What the audit list of before told nothing about is taken as it stands. */
export const settlementsWereAgreed: Check = {
  invariant: 5,
  words:
    "Every settlement names who agreed to it, the policy it went by and the fee for cards it shared",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH told AS (
      SELECT e.*, 'Settlement ' || e.number || ' of ' || s.name AS name, a.by_id AS settled_by, a.detail
      FROM settlement e JOIN sale s ON s.id = e.sale_id
      LEFT JOIN audit a ON a.subject_id = e.id::text AND a.deed = 'finalise-settlement')
    SELECT (SELECT count(*) FROM settlement) AS checked, coalesce(
      (SELECT name || ' names other people than those who settled it' FROM told
        WHERE settled_by <> coalesce(approved_by_id, by_id)
          OR (detail IS NOT NULL AND (detail ->> 'approvedById') IS DISTINCT FROM approved_by_id::text)
        ORDER BY at, id LIMIT 1),
      (SELECT name || ' was agreed to by a second person and proposed by nobody' FROM told t
        WHERE approved_by_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM settlement_proposal p
          WHERE (p.sale_id, p.fingerprint, p.net, p.by_id) = (t.sale_id, t.fingerprint, t.net, t.by_id))
        ORDER BY at, id LIMIT 1),
      (SELECT name || ' goes by policy ' || policy_version || ', which it did not or which is not there' FROM told t
        WHERE (detail ->> 'policyVersion')::integer <> policy_version
          OR NOT EXISTS (SELECT 1 FROM sale_policy p WHERE (p.sale_id, p.version) = (t.sale_id, t.policy_version))
        ORDER BY at, id LIMIT 1),
      (SELECT name || ' shared a fee for cards of ' || card_fee_whole || '; its members bear ' || card_fee
          || ' of ' || coalesce(detail ->> 'cardFeeWhole', 'it') FROM told
        WHERE card_fee > card_fee_whole OR (detail ->> 'cardFeeWhole')::bigint <> card_fee_whole
        ORDER BY at, id LIMIT 1)) AS broken`,
};
