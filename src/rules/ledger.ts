import { assertMinor, type Minor, total } from "./money.ts";

/** One side of a journal entry in smallest coins: debit is positive, credit is negative. */
export interface Posting {
  account: string;
  amount: Minor;
}

/** The accounts that the whole guild shares, by the key they are stored under. */
export const accounts = {
  cheques: "cheques",
  card: "card-clearing",
  otherTender: "other-tender",
  bank: "bank",
  /** Counted cash that waits for the bank, and where a till's float comes from. */
  cashBox: "cash-box",
  suspense: "suspense",
  guildShare: "guild-share",
  fees: "fees",
  guildGoods: "guild-goods",
  donations: "donations",
  cashRounding: "cash-rounding",
  overShort: "over-short",
  cardFees: "card-fees",
  /** What the guild paid for pieces that went missing in its care. */
  losses: "losses",
  /** What the guild gave members, or took from them, by somebody's decision. */
  adjustments: "adjustments",
  /** Cash that a till gave up before its cash-up. */
  safe: "safe",
  paidIn: "paid-in",
  paidOut: "paid-out",
  /** Between the two halves of an exchange; nothing stays here. */
  exchange: "exchange",
} as const;

/** What was taken of one tax, by the code of its component. */
export const taxAccount = (code: string): string => `tax/${code}`;

/** The cash in one till's drawer. */
export const drawer = (tillId: string): string => `drawer/${tillId}`;

/** What the guild owes a member; a credit balance is owed, a debit balance is owed by the member. */
export const member = (memberId: string): string => `member/${memberId}`;

/** Throws unless the postings sum to zero. */
export function assertBalanced(postings: readonly Posting[]): void {
  const sum = total(postings.map(({ amount }) => amount));
  if (sum !== 0) throw new Error(`The postings of one entry must sum to zero, not ${sum}`);
}

/** One posting for each account, in the order they first came up; zeros are left out. */
export function merge(postings: readonly Posting[]): Posting[] {
  const sums = new Map<string, Minor>();
  for (const { account, amount } of postings)
    sums.set(account, total([sums.get(account) ?? 0, amount]));
  return [...sums]
    .filter(([, amount]) => amount !== 0)
    .map(([account, amount]) => ({ account, amount }));
}

/** The exact opposite of an entry: how a wrong or void one is taken back. */
export const negate = (postings: readonly Posting[]): Posting[] =>
  postings.map(({ account, amount }) => ({ account, amount: 0 - assertMinor(amount) }));

/** Merges and checks: what every function that makes an entry hands back. */
export function entry(postings: readonly Posting[]): Posting[] {
  const merged = merge(postings);
  assertBalanced(merged);
  return merged;
}
