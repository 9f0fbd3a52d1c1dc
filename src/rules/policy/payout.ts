import { assertMinor, type Minor } from "../money.ts";
import type { PayoutMethod } from "../statement.ts";

/** A way of paying members, up to an amount in smallest coins; `null` takes any amount. */
export interface PayoutTender {
  method: PayoutMethod;
  upTo: Minor | null;
}

/** Balances below `minimum` are carried on; of the tenders the first that fits pays. */
export interface PayoutPolicy {
  minimum: Minor;
  tenders: readonly PayoutTender[];
}

/** `paid` and `carried` add up to the balance; `method` is `null` when nothing is paid. */
export interface Payout {
  paid: Minor;
  carried: Minor;
  method: PayoutMethod | null;
  why: "paid" | "nothing-due" | "below-minimum" | "owed-by-member";
}

/** What a member wishes, and whether the minimum is set aside (a member who leaves, a last payout). */
export interface PayoutWish {
  method: PayoutMethod | null;
  payAll: boolean;
}

/**
 * What is paid of a balance and what is carried to the next settlement. A debt is carried, never
 * collected; small sums may be held (found in printed rules of craft shops and guilds). The
 * member's wish decides on the tender where the guild offers it for that amount. Throws when no
 * tender fits.
 */
export function payoutOf(policy: PayoutPolicy, balance: Minor, wish: PayoutWish): Payout {
  const held = (why: Payout["why"]): Payout => ({
    ...{ paid: 0, carried: assertMinor(balance), method: null, why },
  });
  if (balance === 0) return held("nothing-due");
  if (balance < 0) return held("owed-by-member");
  if (balance < policy.minimum && !wish.payAll) return held("below-minimum");
  const fitting = policy.tenders.filter(({ upTo }) => upTo === null || balance <= upTo);
  const tender = fitting.find(({ method }) => method === wish.method) ?? fitting[0];
  if (!tender) throw new RangeError(`No tender pays ${balance}`);
  return { paid: assertMinor(balance), carried: 0, method: tender.method, why: "paid" };
}
