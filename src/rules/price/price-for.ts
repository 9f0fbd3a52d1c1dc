import {
  dividedBy,
  type Fraction,
  fraction,
  isLess,
  minus,
  plus,
  sumOf,
  times,
  wholeAbove,
} from "../fraction.ts";
import type { Minor } from "../money.ts";
import { type Cuts, cardFeeAt, guildPartAt, keptOf } from "./cuts.ts";
import type { PieceCost } from "./piece-cost.ts";

/** What of a piece's cost decides about its price. */
export type Needs = Pick<PieceCost, "cost" | "minutes" | "labour">;

/** `raw` exactly; `tag` is the next price of the sale that is not below it. */
export interface Priced {
  raw: Fraction;
  tag: Minor;
}

export type NoPrice = "nothing-left" | "too-high";

/**
 * The price at which a piece pays its cost and the wanted hours, rounded up to a step of the sale
 * (a whole unit of the currency, say). Exact up to that rounding: in binary floating point
 * 42 / (1 − 0.3) is a hair above 60 and would become 61.
 */
export function priceFor(
  { cost, labour }: Needs,
  cuts: Cuts,
  { step, most }: { step: Minor; most: Minor },
): Priced | NoPrice {
  const kept = keptOf(cuts);
  if (!kept) return "nothing-left";
  const raw = dividedBy(sumOf([cost, labour, kept.fixed]), kept.part);
  const steps = wholeAbove(dividedBy(raw, fraction(step)));
  if (steps * BigInt(step) > BigInt(most)) return "too-high";
  return { raw, tag: Number(steps) * step };
}

/** What is left of a price for the maker, before what the piece cost; below zero where fees eat it. */
export const leftAt = (price: Minor, cuts: Cuts): Fraction =>
  minus(fraction(price), plus(guildPartAt(price, cuts), cardFeeAt(price, cuts)));

/** What an hour brings at a price, exactly; null where no hours are given. */
export function payAt(price: Minor, { cost, minutes }: Needs, cuts: Cuts): Fraction | null {
  if (minutes.top <= 0n) return null;
  return dividedBy(times(minus(leftAt(price, cuts), cost), fraction(60)), minutes);
}

export type Verdict = "pays" | "no-hours" | "below-wage" | "below-cost";

/** How a price does: whether it brings the cost back, and the wanted pay on top. */
export function verdictAt(price: Minor, needs: Needs, cuts: Cuts): Verdict {
  const left = leftAt(price, cuts);
  if (isLess(left, needs.cost)) return "below-cost";
  if (needs.minutes.top <= 0n) return "no-hours";
  return isLess(left, plus(needs.cost, needs.labour)) ? "below-wage" : "pays";
}
