import type { Policy } from "../policy.ts";
import { cardFeeSection } from "./card-fee.ts";
import { feesSection, roundingSection } from "./fees.ts";
import { lossSection, payingSection } from "./paying.ts";
import { ratesSection } from "./rates.ts";
import type { MoneyWords, PolicySection } from "./section.ts";

/** A policy in whole sentences: what members read before they enter, and what its makers check. */
export const policyWords = (policy: Policy, money: MoneyWords): PolicySection[] => [
  ratesSection(policy.rates),
  feesSection(policy, money),
  cardFeeSection(policy.cardFee, money),
  lossSection(policy.loss, money),
  payingSection(policy.payout, money),
  roundingSection(policy),
];

/** What one part of a policy said before and says now, without what both say. */
export interface PolicyChange {
  title: string;
  before: string[];
  now: string[];
}

/** The parts that read differently, in the order of the policy; none when both say the same. */
export function policyChanges(before: Policy, now: Policy, money: MoneyWords): PolicyChange[] {
  const old = policyWords(before, money);
  return policyWords(now, money)
    .map(({ title, sentences }, index) => {
      const earlier = old[index]!.sentences;
      return {
        title,
        before: earlier.filter((sentence) => !sentences.includes(sentence)),
        now: sentences.filter((sentence) => !earlier.includes(sentence)),
      };
    })
    .filter((change) => change.before.length + change.now.length > 0);
}

/** One change as one sentence, for the log of deeds. */
export const changeText = ({ title, before, now }: PolicyChange): string =>
  [`${title}.`, ...now.map((one) => `Now: ${one}`), ...before.map((one) => `Before: ${one}`)].join(
    " ",
  );
