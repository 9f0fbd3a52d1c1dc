import type { Minor, Rate } from "../money.ts";
import type { PriceAndTax } from "./card-paid.ts";
import type { Fee, FeeFacts } from "./fees.ts";
import type { RateAnswer, Seller } from "./guild-rate.ts";
import type { Loss } from "./loss.ts";
import type { Payout, PayoutWish } from "./payout.ts";

/**
 * A line sold or returned, in the order of recording: `quantity` and `amount` are above zero for
 * a sale and below zero for a return, which names the line of this book that it reverses.
 * `amount` is in smallest coins, after the seller's discounts and before added tax; `card` is what
 * a card paid of it, zero for a return.
 */
export interface BookLine {
  lineId: string;
  receiptId: string;
  memberId: string;
  kind: string;
  donated: boolean;
  quantity: number;
  amount: Minor;
  card: PriceAndTax;
  /** The card fee that a statement holds already: it is shared out once and stays. */
  frozenCardFee?: Minor;
  original?: { lineId: string; quantity: number; alreadyReturned: number };
}

/** Alike pieces neither sold nor handed back; `price` of one piece. */
export interface MissingItem {
  itemId: string;
  kind: string;
  donated: boolean;
  quantity: number;
  price: Minor;
}

/** `carried` is the balance of earlier sales, below zero when the member owes the guild. */
export interface BookMember {
  memberId: string;
  memberNumber: number;
  seller: Seller;
  facts: FeeFacts;
  missing: readonly MissingItem[];
  carried: Minor;
  wish: PayoutWish;
}

/**
 * A sale whole, also when part of it is settled already. `cardFee` is what the processor's
 * statement says of the lines without a frozen fee; `null` takes the fee that the policy lets expect.
 */
export interface SaleBook {
  members: readonly BookMember[];
  lines: readonly BookLine[];
  cardFee: Minor | null;
}

/** `net` is what is left for the member: amount − guild share − card fee. */
export interface AccountLine extends BookLine {
  answer: RateAnswer;
  rate: Rate;
  guildShare: Minor;
  cardFee: Minor;
  net: Minor;
}

/**
 * One member's sale: gross − guild share − card fee − fees + losses + carried = balance.
 * `donated` stands apart from gross and guild share.
 */
export interface MemberAccount {
  memberId: string;
  memberNumber: number;
  lines: AccountLine[];
  fees: Fee[];
  losses: Loss[];
  gross: Minor;
  guildShare: Minor;
  cardFee: Minor;
  donated: Minor;
  feeTotal: Minor;
  lossTotal: Minor;
  carried: Minor;
  balance: Minor;
  payout: Payout;
}

/** `takings` − the members' part = what is left for the guild, the card fee already paid. */
export interface SaleAccounts {
  members: MemberAccount[];
  takings: Minor;
  cardFee: Minor;
  /** The part of it that no statement holds yet. */
  openCardFee: Minor;
  cardFeeByGuild: Minor;
  leftForGuild: Minor;
}
