import { nearestWhole, wholeBelow } from "../fraction.ts";
import type { Minor } from "../money.ts";
import { type Cuts, cardFeeAt, guildPartAt } from "./cuts.ts";
import type { PossibleRate } from "./possible-rates.ts";
import { type Needs, type NoPrice, payAt, priceFor, type Verdict, verdictAt } from "./price-for.ts";

/** A price taken apart in whole coins: price − guild − card fee = left. */
export interface PriceAt {
  price: Minor;
  guild: Minor;
  cardFee: Minor;
  left: Minor;
  /** What an hour brings, rounded down so that it never seems to reach what it does not. */
  pay: Minor | null;
  verdict: Verdict;
}

/** One percentage that may come to hold, with the price that brings the wanted pay under it. */
export interface PriceRow extends PossibleRate {
  wanted: PriceAt | NoPrice;
}

/** What holds for every row: how the card fee is borne and how prices step. */
export interface Terms extends Omit<Cuts, "rate"> {
  step: Minor;
  most: Minor;
}

export function shownAt(price: Minor, needs: Needs, cuts: Cuts): PriceAt {
  const guild = Number(nearestWhole(guildPartAt(price, cuts)));
  const cardFee = Number(nearestWhole(cardFeeAt(price, cuts)));
  const pay = payAt(price, needs, cuts);
  return {
    ...{ price, guild, cardFee, left: price - guild - cardFee },
    pay: pay && Number(wholeBelow(pay)),
    verdict: verdictAt(price, needs, cuts),
  };
}

export const priceRows = (
  needs: Needs,
  rates: readonly PossibleRate[],
  { step, most, ...card }: Terms,
): PriceRow[] =>
  rates.map((one) => {
    const cuts = { ...card, rate: one.rate };
    const priced = priceFor(needs, cuts, { step, most });
    const wanted = typeof priced === "string" ? priced : shownAt(priced.tag, needs, cuts);
    return { ...one, wanted };
  });
