import type { OwnRate } from "../../database/own-rate.ts";
import { rateWords } from "../../rules/policy/rate-words.ts";
import { policyWords } from "../../rules/policy/words/policy-words.ts";

/** What a member reads about the guild's part before entering anything. */
export const keepsView = (
  { policy, reason }: OwnRate,
  { money }: { money(amount: number): string },
) => ({
  yours: `${rateWords(reason)}.`,
  byKind: policy.rates.kinds.length > 0,
  sections: policyWords(policy, money),
});
