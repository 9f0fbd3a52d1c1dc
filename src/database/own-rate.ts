import { guildRateOf, type RateReason } from "../rules/policy/guild-rate.ts";
import type { Policy } from "../rules/policy/policy.ts";
import { nobodySpecial } from "../rules/policy/words/rates.ts";
import type { Database } from "./client.ts";
import { policyOf } from "./policies.ts";
import { sellersOf } from "./sellers.ts";

/** The policy that holds for a sale, and the percentage of one member under it as it stands. */
export interface OwnRate {
  version: number;
  policy: Policy;
  /** Of a piece that has no percentage of its own by its kind. */
  reason: RateReason;
}

export async function ownRateOf(db: Database, saleId: string, memberId: string): Promise<OwnRate> {
  const { version, policy } = await policyOf(db, saleId);
  const [found] = await sellersOf(db, saleId, memberId);
  const seller = found?.seller ?? nobodySpecial;
  const { reason } = guildRateOf(policy.rates, seller, { kind: "", donated: false });
  return { version, policy, reason };
}
