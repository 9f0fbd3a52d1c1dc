import { assertMinor, type Minor } from "./money.ts";
import { localDayOf } from "./zoned-time.ts";

/** One thing in the books that counts for a member's year, whichever sale it comes from. */
export interface YearFact {
  memberId: string;
  /** The moment it was posted, as ISO 8601 in UTC. */
  at: string;
  /** What buyers paid for the member's pieces, before the guild's share; returns are below zero. */
  sold: Minor;
  /** The guild's share and fees. */
  kept: Minor;
  /** What was paid out; a payout taken back is below zero. */
  paid: Minor;
}

/** A member's year, in smallest coins. */
export interface YearTotal {
  memberId: string;
  sold: Minor;
  kept: Minor;
  paid: Minor;
  /** The year reaches what the guild has set down to be reported. */
  toReport: boolean;
}

/**
 * From what amount on a year has to be reported, as the guild's accountant says. Laws differ in
 * what they count and whether the amount itself is inside ("2,000 or more") or not ("over 1,000"),
 * so both are part of the setting, and no country's figure stands in the code.
 */
export interface ReportingThreshold {
  amount: Minor;
  counts: "sold" | "paid";
  from: "at" | "over";
}

/**
 * Totals per member over the facts of one calendar year where the guild's clocks are, in the order
 * in which members first come up. Without a threshold nobody is to be reported. Throws for amounts
 * that are not whole, and for a threshold of nothing or less.
 */
export function yearTotals(
  facts: readonly YearFact[],
  year: number,
  zone: string,
  threshold: ReportingThreshold | null,
): YearTotal[] {
  if (threshold && assertMinor(threshold.amount) <= 0)
    throw new RangeError(`A threshold must be above zero: ${threshold.amount}`);
  const totals = new Map<string, YearTotal>();
  for (const fact of facts) {
    if (Number(localDayOf(fact.at, zone).slice(0, 4)) !== year) continue;
    const { memberId } = fact;
    const sum = totals.get(memberId) ?? { memberId, sold: 0, kept: 0, paid: 0, toReport: false };
    sum.sold = assertMinor(sum.sold + assertMinor(fact.sold));
    sum.kept = assertMinor(sum.kept + assertMinor(fact.kept));
    sum.paid = assertMinor(sum.paid + assertMinor(fact.paid));
    totals.set(memberId, sum);
  }
  return [...totals.values()].map((sum) => ({
    ...sum,
    toReport: threshold !== null && reaches(sum[threshold.counts], threshold),
  }));
}

const reaches = (amount: Minor, { amount: limit, from }: ReportingThreshold): boolean =>
  from === "at" ? amount >= limit : amount > limit;
