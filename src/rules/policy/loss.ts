import { assertMinor, isMinor, type Minor, type Rate } from "../money.ts";
import { type Halves, shareBy } from "./share-rounding.ts";

/** What the guild pays for a piece that is neither sold nor handed back, in smallest coins. */
export type LossPolicy =
  | { rule: "none" }
  | { rule: "price-less-share" }
  /** In full up to `cap` for each piece, and the part `aboveCap` of what lies above it. */
  | { rule: "capped"; cap: Minor; aboveCap: Rate };

/** Alike pieces that are missing; `price` of one piece, `rate` the guild's percentage of it. */
export interface MissingPieces {
  itemId: string;
  quantity: number;
  price: Minor;
  rate: Rate;
}

export interface Loss {
  itemId: string;
  quantity: number;
  each: Minor;
  amount: Minor;
}

/**
 * What a member is paid for missing pieces, each of them by itself. "No insurance" and "price less
 * share up to 200, half above" are both found in printed rules of weavers' guilds. A piece given to
 * the guild has a rate of 100 % and so is worth nothing to its maker. Throws for a count or price
 * that is not whole or below zero.
 */
export function lossOf(policy: LossPolicy, missing: MissingPieces, halves: Halves): Loss {
  const { itemId, quantity, price, rate } = missing;
  if (!isMinor(quantity) || quantity < 0 || !isMinor(price) || price < 0)
    throw new RangeError(`Not missing pieces: ${quantity} at ${price}`);
  const each = compensation(policy, price - shareBy(halves, price, rate), halves);
  return { itemId, quantity, each, amount: assertMinor(quantity * each) };
}

function compensation(policy: LossPolicy, net: Minor, halves: Halves): Minor {
  if (policy.rule === "none") return 0;
  if (policy.rule === "price-less-share" || net <= policy.cap) return net;
  return policy.cap + shareBy(halves, net - policy.cap, policy.aboveCap);
}
