import { assertMinor, isMinor, type Rate, wholeRate } from "../money.ts";

/** How the guild sets its percentage. Rates in thousandths of a percent, hours in minutes. */
export interface RatePolicy {
  /** Holds where nothing else does, and below the first bound of `hours`. */
  ordinary: Rate;
  /** `null`: visitors and the committee have no rate of their own. */
  visitor: Rate | null;
  committee: Rate | null;
  classes: readonly ClassRate[];
  kinds: readonly KindRate[];
  /** Rising bounds above zero; whoever worked exactly a bound has reached it. */
  hours: readonly HoursTier[];
}

/** A class of members that the guild named itself ("Honorary members"). */
export interface ClassRate {
  code: string;
  name: string;
  rate: Rate;
}

/** A kind of goods with its own rate; `visitorsToo` says whether it holds for visitors' goods. */
export interface KindRate {
  kind: string;
  name: string;
  rate: Rate;
  visitorsToo: boolean;
}

export interface HoursTier {
  fromMinutes: number;
  rate: Rate;
}

/** What decides about a member; `minutesWorked` is what has been ticked off as worked. */
export interface Seller {
  visitor: boolean;
  committee: boolean;
  classCode: string | null;
  minutesWorked: number;
}

export interface Goods {
  kind: string;
  donated: boolean;
}

/** One ground for a rate; `toMinutes` is where the next tier begins, `null` after the last. */
export type RateReason =
  | { why: "donated" | "visitor" | "committee" | "ordinary"; rate: Rate }
  | { why: "kind" | "class"; rate: Rate; name: string }
  | { why: "hours"; rate: Rate; fromMinutes: number; toMinutes: number | null };

/** The rate, why it holds, and the grounds that would have held without it, nearest first. */
export interface RateAnswer {
  rate: Rate;
  reason: RateReason;
  passedOver: RateReason[];
}

/**
 * The guild's percentage of one piece. What is sold goes before who sells it, and that before how
 * much they worked: a gift is all the guild's; then the kind of goods, visitors, the committee,
 * the member's class, the hours, and last the ordinary rate. The order is ours (common practice,
 * no source); each ground is found in printed rules of weavers' guilds. Throws for minutes that
 * are not whole or below zero.
 */
export function guildRateOf(policy: RatePolicy, seller: Seller, goods: Goods): RateAnswer {
  const grounds = [
    goods.donated ? ({ why: "donated", rate: wholeRate } as const) : undefined,
    kindReason(policy, seller, goods.kind),
    seller.visitor && policy.visitor !== null
      ? ({ why: "visitor", rate: policy.visitor } as const)
      : undefined,
    seller.committee && policy.committee !== null
      ? ({ why: "committee", rate: policy.committee } as const)
      : undefined,
    classReason(policy, seller.classCode),
    hoursReason(policy, seller.minutesWorked),
  ];
  const [reason, ...passedOver] = grounds.filter((ground) => ground !== undefined);
  return { rate: reason!.rate, reason: reason!, passedOver };
}

function kindReason(policy: RatePolicy, seller: Seller, kind: string): RateReason | undefined {
  const own = policy.kinds.find((one) => one.kind === kind);
  if (!own || (seller.visitor && policy.visitor !== null && !own.visitorsToo)) return undefined;
  return { why: "kind", rate: own.rate, name: own.name };
}

function classReason(policy: RatePolicy, code: string | null): RateReason | undefined {
  const own = policy.classes.find((one) => one.code === code);
  return own && { why: "class", rate: own.rate, name: own.name };
}

/** The last ground always holds, so that every piece has a rate. */
function hoursReason({ ordinary, hours }: RatePolicy, minutesWorked: number): RateReason {
  if (!isMinor(minutesWorked) || minutesWorked < 0)
    throw new RangeError(`Minutes worked must be a whole number: ${minutesWorked}`);
  if (hours.length === 0) return { why: "ordinary", rate: ordinary };
  const reached = hours.filter(({ fromMinutes }) => assertMinor(fromMinutes) <= minutesWorked);
  const tier = reached.at(-1) ?? { fromMinutes: 0, rate: ordinary };
  const toMinutes = hours[reached.length]?.fromMinutes ?? null;
  return { why: "hours", rate: tier.rate, fromMinutes: tier.fromMinutes, toMinutes };
}
