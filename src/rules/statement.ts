import { formatMoney, rateText } from "./currency.ts";
import type { Minor, Rate } from "./money.ts";

/**
 * What stood around the figures on the day of the settlement. Kept with the statement, so that a
 * guild that moves or changes its name later does not change what was handed out.
 */
export interface StatementHeading {
  guildName: string;
  guildLines: string[];
  saleName: string;
  /** Days as "2026-11-27". */
  firstDay: string;
  lastDay: string;
  memberNumber: number;
  memberName: string;
  currency: string;
  locale: string;
  timeZone: string;
  paper: "letter" | "a4";
  notes: string[];
}

/** A line as settled: below zero in quantity and amounts when pieces came back. */
export interface FrozenLine {
  soldAt: Date;
  tag: string;
  description: string;
  quantity: number;
  amount: Minor;
  rate: Rate;
  guildShare: Minor;
  net: Minor;
  donated: boolean;
}

export interface FrozenUnsold {
  tag: string;
  description: string;
  quantity: number;
  /** Of one piece. */
  price: Minor;
}

/** One member's statement whole, as it was frozen; only the payout may come or change later. */
export interface FrozenStatement {
  id: string;
  number: number;
  settlementId: string;
  saleId: string;
  settledAt: Date;
  memberId: string;
  heading: StatementHeading;
  gross: Minor;
  guildShare: Minor;
  net: Minor;
  lines: FrozenLine[];
  unsold: FrozenUnsold[];
  payout: { paidOn: string; method: PayoutMethod; reference: string; amount: Minor } | null;
}

export const payoutMethods = ["cheque", "transfer", "cash"] as const;

export type PayoutMethod = (typeof payoutMethods)[number];

/** What the figures of a statement mean, in sentences for its foot. */
export function statementNotes(given: {
  rate: Rate;
  net: Minor;
  donated: Minor;
  hasReturns: boolean;
  currency: string;
  locale: string;
}): string[] {
  const words = (amount: Minor) => formatMoney(amount, given.currency, given.locale);
  const notes = [
    `The guild share is ${rateText(given.rate)} % of each line, rounded to the nearest coin, half a coin up. ` +
      "Sales tax was added at the till and is not part of these figures.",
  ];
  if (given.hasReturns)
    notes.push(
      "A line with a minus is a piece that a buyer brought back; the guild gave its share of it back too.",
    );
  if (given.donated !== 0)
    notes.push(
      `Pieces given to the guild brought ${words(given.donated)}. They are listed and do not count in the totals.`,
    );
  if (given.net < 0)
    notes.push(
      `${words(0 - given.net)} is owed to the guild, because a piece that had been paid out was brought back.`,
    );
  if (given.net === 0) notes.push("Nothing is to be paid out for this statement.");
  return notes;
}
