import type { Rate } from "../money.ts";
import {
  guildRateOf,
  type RatePolicy,
  type RateReason,
  type Seller,
} from "../policy/guild-rate.ts";
import { groundWords } from "../policy/rate-words.ts";

/**
 * A percentage that a member's piece may end up under. `now`: as everything stands; `work`: after
 * `moreMinutes` of work; `else`: if the guild counted the member otherwise; `typed`: the member's
 * own figure, such as a shop's.
 */
export interface PossibleRate {
  why: string;
  rate: Rate;
  when: "now" | "work" | "else" | "typed";
  moreMinutes: number;
}

/**
 * Every percentage of a policy that can come to hold for a kind of goods of a member, the present
 * one first. Hours only grow, so steps that are passed do not come again.
 */
export function possibleRates(policy: RatePolicy, seller: Seller, kind: string): PossibleRate[] {
  const reasonFor = (change: Partial<Seller>): RateReason =>
    guildRateOf(policy, { ...seller, ...change }, { kind, donated: false }).reason;
  const ahead = policy.hours.filter(({ fromMinutes }) => fromMinutes > seller.minutesWorked);
  const found = [
    possible(reasonFor({}), "now"),
    ...ahead.map(({ fromMinutes }) => ({
      ...possible(reasonFor({ minutesWorked: fromMinutes }), "work"),
      moreMinutes: fromMinutes - seller.minutesWorked,
    })),
    ...others(policy).map((change) => possible(reasonFor(change), "else")),
  ];
  const same = (one: PossibleRate, other: PossibleRate) =>
    one.why === other.why && one.rate === other.rate;
  return found.filter((one, index) => found.findIndex((other) => same(one, other)) === index);
}

function others({ visitor, committee, classes }: RatePolicy): Partial<Seller>[] {
  const plain = { visitor: false, committee: false, classCode: null };
  return [
    ...(committee === null ? [] : [{ ...plain, committee: true }]),
    ...classes.map(({ code }) => ({ ...plain, classCode: code })),
    ...(visitor === null ? [] : [{ ...plain, visitor: true }]),
  ];
}

function possible(reason: RateReason, when: PossibleRate["when"]): PossibleRate {
  const ground = groundWords(reason);
  const why = `${ground.charAt(0).toUpperCase()}${ground.slice(1)}`;
  return { why, rate: reason.rate, when, moreMinutes: 0 };
}
