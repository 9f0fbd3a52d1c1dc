import type { Policy } from "../rules/policy/policy.ts";
import type { Database } from "./client.ts";
import { type PolicyRead, policiesOf } from "./policies.ts";

/** A policy that came after a member had agreed to what the sale asks. */
export interface PolicyNews extends PolicyRead {
  before: Policy;
}

/** What changed in a sale's policy since the member last agreed, the newest first. */
export async function policyNews(
  db: Database,
  saleId: string,
  memberId: string,
): Promise<PolicyNews[]> {
  const accepted = await db.acceptance.findFirst({
    where: { saleId, memberId },
    orderBy: { at: "desc" },
  });
  if (!accepted) return [];
  const versions = await policiesOf(db, saleId);
  return versions.flatMap((one, index) => {
    const before = versions[index + 1];
    return before && one.at > accepted.at ? [{ ...one, before: before.policy }] : [];
  });
}
