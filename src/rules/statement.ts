import { formatMoney } from "./currency.ts";
import type { Minor, Rate } from "./money.ts";
import type { CardFeeWay } from "./policy/card-fee.ts";
import type { Payout } from "./policy/payout.ts";
import type { Policy } from "./policy/policy.ts";
import type { ShareRounding } from "./policy/share-rounding.ts";

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
  /** Missing on statements from before it was kept, which print as they did then. */
  yearToDate?: YearToDate;
}

/** All statements of a member that were settled in a calendar year, this one included. */
export type YearToDate = { year: number; gross: Minor; net: Minor };

/** A line as settled: below zero in quantity and amounts when pieces came back. */
export interface FrozenLine {
  soldAt: Date;
  tag: string;
  description: string;
  quantity: number;
  amount: Minor;
  rate: Rate;
  /** "20 %: 2 to 6 hours of work"; empty on lines from before there were policies. */
  ground: string;
  guildShare: Minor;
  cardFee: Minor;
  net: Minor;
  donated: boolean;
}

export const statementItemKinds = [
  ...(["entry", "late", "missed-shift", "loss", "adjustment", "share-correction"] as const),
] as const;

export type StatementItemKind = (typeof statementItemKinds)[number];

/** What stands beside the lines: `amount` is above zero for the member, below it for the guild. */
export interface FrozenItem {
  kind: StatementItemKind;
  words: string;
  count: number;
  amount: Minor;
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
  cardFee: Minor;
  fees: Minor;
  losses: Minor;
  adjustments: Minor;
  net: Minor;
  /** What the statement before left unpaid: below zero when the member owes the guild. */
  carried: Minor;
  /** Net and carried together, or nothing when they are held or owed. */
  due: Minor;
  payMethod: PayoutMethod | null;
  lines: FrozenLine[];
  items: FrozenItem[];
  unsold: FrozenUnsold[];
  payout: { paidOn: string; method: PayoutMethod; reference: string; amount: Minor } | null;
}

export const payoutMethods = ["cheque", "transfer", "cash"] as const;

export type PayoutMethod = (typeof payoutMethods)[number];

/** What a statement's notes go by; amounts in smallest coins. */
interface NotesGiven {
  policy: Policy;
  gross: Minor;
  net: Minor;
  carried: Minor;
  due: Minor;
  donated: Minor;
  payWhy: Payout["why"];
  payMethod: PayoutMethod | null;
  hasReturns: boolean;
  hasCardFee: boolean;
  currency: string;
  locale: string;
}

/** What the figures of a statement mean, in sentences for its foot that hold for any policy. */
export function statementNotes(given: NotesGiven): string[] {
  const { policy, gross, donated, hasReturns, hasCardFee } = given;
  const words = (amount: Minor) => formatMoney(amount, given.currency, given.locale);
  const notes = [];
  if (gross !== 0 || hasReturns) notes.push(shareWords(policy.rounding));
  if (hasCardFee) notes.push(cardFeeWords[policy.cardFee.way]);
  if (hasReturns)
    notes.push(
      `A line with a minus is a piece that a buyer brought back; the guild gave its share of it back too.${hasCardFee ? " The fee for a card is not given back." : ""}`,
    );
  if (donated !== 0)
    notes.push(
      `Pieces given to the guild brought ${words(donated)}. They are listed and do not count in the totals.`,
    );
  if (given.carried !== 0) notes.push(carriedWords(given, words));
  return [...notes, payWords(given, words)];
}

/** Tax is named here, because it explains why a line is less than the buyer paid. */
function shareWords({ basis, halves }: ShareRounding): string {
  const half = halves === "up" ? "half a coin up" : "half a coin to the even one";
  const tax =
    "The amounts are without sales tax, whether it was added at the till or stood in the price.";
  if (basis === "line")
    return `The guild share is worked out for each line and rounded to the nearest coin, ${half}. ${tax}`;
  return `The guild share of all lines is added up exactly and rounded once to the nearest coin, ${half}; each line shows by how much the rounded sum grew with it. ${tax}`;
}

const cardFeeWords: Record<CardFeeWay, string> = {
  guild: "The guild pays the fee for cards.",
  price: "The fee for cards is shared over what cards paid, by price, to the last coin.",
  charged:
    "The fee for cards is shared as it was charged: by receipt, on price and tax, with the fixed amount of each receipt.",
  "before-share":
    "The fee for cards comes off the price first, and the guild's percentage is of what is left.",
};

function carriedWords({ net, carried }: NotesGiven, words: (amount: Minor) => string): string {
  const before =
    carried > 0
      ? `${words(carried)} was left unpaid by your statement before and is added`
      : `${words(0 - carried)} was owed by your statement before and is taken off`;
  return `${before}: ${words(net)} of this statement makes ${words(net + carried)}.`;
}

function payWords(given: NotesGiven, words: (amount: Minor) => string): string {
  const { net, carried, due, policy } = given;
  switch (given.payWhy) {
    case "paid":
      return given.payMethod === null
        ? `${words(due)} is to be paid to you.`
        : `${words(due)} is to be paid to you ${byMethod[given.payMethod]}.`;
    case "nothing-due":
      return "Nothing is to be paid out for this statement.";
    case "below-minimum":
      return `The guild pays amounts from ${words(policy.payout.minimum)}. ${words(net + carried)} stays yours and is carried to your next statement.`;
    case "owed-by-member":
      return `${words(0 - net - carried)} is owed to the guild. It is carried and taken off your next statement.`;
  }
}

/** "by cheque": the end of a sentence about paying. */
export const byMethod: Record<PayoutMethod, string> = {
  cheque: "by cheque",
  transfer: "by bank transfer",
  cash: "in cash",
};
