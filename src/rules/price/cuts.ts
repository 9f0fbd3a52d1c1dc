import { type Fraction, fraction, minus, nothing, plus, times } from "../fraction.ts";
import { type Minor, type Rate, wholeRate } from "../money.ts";
import type { CardFeePolicy } from "../policy/card-fee.ts";

/**
 * What comes off a price before anything is the member's: the guild's percentage, and the card
 * fee as the guild's policy has members bear it. `tax` is what is added to the price at the till
 * and so is charged for by the card terminal too; it is never part of the price.
 */
export interface Cuts {
  rate: Rate;
  card: CardFeePolicy;
  tax: Rate;
}

/** Of each coin of the price, `part` is the member's; of each sale `fixed` comes off once. */
export interface Kept {
  part: Fraction;
  fixed: Fraction;
}

/**
 * What is left of a price that a card pays, in the four ways of bearing the fee:
 * `guild` bears it, 1 − g; `price` passes it on by the tag's price, 1 − g − k; `charged` is on
 * price and tax with a fixed amount, 1 − g − k(1 + x); with `before-share` the guild takes its
 * part of what is left, (1 − k)(1 − g). Null where guild and card leave nothing.
 */
export function keptOf({ rate, card, tax }: Cuts): Kept | null {
  const [guild, fee] = [share(rate), share(card.way === "guild" ? 0 : card.rate)];
  const free = minus(one, plus(guild, fee));
  if (free.top <= 0n) return null;
  switch (card.way) {
    case "guild":
    case "price":
      return { part: free, fixed: nothing };
    case "charged": {
      const part = minus(free, times(fee, share(tax)));
      return part.top <= 0n ? null : { part, fixed: fraction(card.fixed) };
    }
    case "before-share":
      return { part: times(minus(one, fee), minus(one, guild)), fixed: nothing };
  }
}

/** The card fee of a price that a card pays, as far as the member bears it; exactly. */
export function cardFeeAt(price: Minor, { card, tax }: Cuts): Fraction {
  if (card.way === "guild") return nothing;
  const fee = times(fraction(price), share(card.rate));
  if (card.way !== "charged") return fee;
  return plus(plus(fee, times(fee, share(tax))), fraction(card.fixed));
}

/** The guild's part of a price, of what the card fee has left where the policy says so. */
export function guildPartAt(price: Minor, cuts: Cuts): Fraction {
  const whole = fraction(price);
  const base = cuts.card.way === "before-share" ? minus(whole, cardFeeAt(price, cuts)) : whole;
  return times(base, share(cuts.rate));
}

const one = fraction(1);
const share = (rate: Rate): Fraction => fraction(rate, wholeRate);
