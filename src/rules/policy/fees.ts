import { assertMinor, isMinor, type Minor } from "../money.ts";

/** What members pay apart from the percentage, in smallest coins; 0 is no fee. */
export interface FeePolicy {
  entry: Minor;
  /** For members who sell for the first time; `null` where they pay what all pay. */
  firstEntry: Minor | null;
  late: Minor;
  /** Once for a member with late entries, or for each late item. */
  lateFor: "member" | "item";
  missedShift: Minor;
}

/** What a member did, as counted from the books of the sale. */
export interface FeeFacts {
  itemsEntered: number;
  itemsLate: number;
  firstSale: boolean;
  shiftsMissed: number;
}

export interface Fee {
  kind: "entry" | "late" | "missed-shift";
  count: number;
  each: Minor;
  amount: Minor;
}

/**
 * The fees of one member, none of them zero. Whoever entered nothing pays no entry fee; a shift
 * that was promised and missed is charged all the same. Entry fees, with less for newcomers, stand
 * in printed rules of weavers' guilds; fees for late entries and missed shifts are common
 * practice, no source. Throws for counts that are not whole or below zero, and for more late
 * items than items.
 */
export function feesOf(policy: FeePolicy, facts: FeeFacts): Fee[] {
  const { itemsEntered, itemsLate, firstSale, shiftsMissed } = facts;
  for (const count of [itemsEntered, itemsLate, shiftsMissed])
    if (!isMinor(count) || count < 0) throw new RangeError(`Not a count: ${count}`);
  if (itemsLate > itemsEntered)
    throw new RangeError(`${itemsLate} late items of ${itemsEntered} cannot be`);
  const entry = (firstSale ? policy.firstEntry : null) ?? policy.entry;
  const lateCount = policy.lateFor === "item" ? itemsLate : Math.min(itemsLate, 1);
  return [
    fee("entry", Math.min(itemsEntered, 1), entry),
    fee("late", lateCount, policy.late),
    fee("missed-shift", shiftsMissed, policy.missedShift),
  ].filter(({ amount }) => amount !== 0);
}

const fee = (kind: Fee["kind"], count: number, each: Minor): Fee => ({
  kind,
  count,
  each: assertMinor(each),
  amount: assertMinor(count * each),
});
