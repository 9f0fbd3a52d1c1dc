import type { Rate } from "../money.ts";
import type { CardFeePolicy } from "./card-fee.ts";
import type { FeePolicy } from "./fees.ts";
import type { RatePolicy } from "./guild-rate.ts";
import type { LossPolicy } from "./loss.ts";
import type { PayoutPolicy } from "./payout.ts";
import type { ShareRounding } from "./share-rounding.ts";

/** Everything a guild decides about money between itself and its members in one sale. */
export interface Policy {
  rates: RatePolicy;
  rounding: ShareRounding;
  fees: FeePolicy;
  cardFee: CardFeePolicy;
  loss: LossPolicy;
  payout: PayoutPolicy;
}

/** What a guild starts with: one percentage and nothing else, until it decides otherwise. */
export const firstPolicy = (ordinary: Rate): Policy => ({
  rates: { ordinary, visitor: null, committee: null, classes: [], kinds: [], hours: [] },
  rounding: { basis: "line", halves: "up" },
  fees: { entry: 0, firstEntry: null, late: 0, lateFor: "member", missedShift: 0 },
  cardFee: { way: "guild", rate: 0, fixed: 0 },
  loss: { rule: "none" },
  payout: { minimum: 0, tenders: [{ method: "cheque", upTo: null }] },
});
