import { accounts, drawer, entry, member, type Posting, taxAccount } from "./ledger.ts";
import type { LineKind } from "./line-kind.ts";
import { assertMinor, type Minor, total } from "./money.ts";
import type { TenderKind } from "./tender.ts";

export interface LineToPost {
  kind: LineKind;
  memberId: string | null;
  donated: boolean;
  /** Nobody's yet: the money waits in suspense. */
  suspended: boolean;
  amount: Minor;
}

export interface ReceiptToPost {
  lines: readonly LineToPost[];
  taxes: readonly { code: string; tax: Minor }[];
  tenders: readonly { kind: TenderKind | "exchange"; amount: Minor }[];
  /** What cash rounding added to the tenders, or took off them. */
  rounding: Minor;
}

/**
 * A receipt: tenders as debits; owners of the goods, taxes and cash rounding as credits. Of a
 * return or a void every figure is below zero, and so the sides change places.
 */
export const receiptPostings = (receipt: ReceiptToPost, tillId: string): Posting[] =>
  entry([
    ...receipt.tenders.map(({ kind, amount }) => ({
      account: tenderAccount(kind, tillId),
      amount,
    })),
    ...receipt.lines.map((line) => ({ account: lineAccount(line), amount: 0 - line.amount })),
    ...receipt.taxes.map(({ code, tax }) => ({ account: taxAccount(code), amount: 0 - tax })),
    { account: accounts.cashRounding, amount: 0 - receipt.rounding },
  ]);

/**
 * A suspended line has found its owner: its money leaves suspense. Without a member it is the
 * guild's own. The tax stays as it was taken.
 */
export const identifiedPostings = (amount: Minor, memberId: string | null): Posting[] =>
  entry([
    { account: accounts.suspense, amount },
    { account: memberId === null ? accounts.guildGoods : member(memberId), amount: 0 - amount },
  ]);

const otherSide = {
  "to-safe": accounts.safe,
  "paid-in": accounts.paidIn,
  "paid-out": accounts.paidOut,
};

/** Cash that moves without a sale; `amount` is above zero, the kind says which way it goes. */
export function cashMovePostings(
  kind: keyof typeof otherSide,
  amount: Minor,
  tillId: string,
): Posting[] {
  const intoDrawer = kind === "paid-in" ? amount : 0 - amount;
  return entry([
    { account: drawer(tillId), amount: intoDrawer },
    { account: otherSide[kind], amount: 0 - intoDrawer },
  ]);
}

/** The float goes from the cash box into the drawer. */
export const openingPostings = (float: Minor, tillId: string): Posting[] =>
  entry([
    { account: drawer(tillId), amount: float },
    { account: accounts.cashBox, amount: 0 - float },
  ]);

/**
 * Cash-up: the drawer gives up what it should hold, the cash box takes what was counted, and the
 * difference goes to over/short (a debit when cash is missing). The sales stay as they were.
 */
export const cashUpPostings = (
  { expected, counted }: { expected: Minor; counted: Minor },
  tillId: string,
): Posting[] =>
  entry([
    { account: drawer(tillId), amount: 0 - expected },
    { account: accounts.cashBox, amount: counted },
    { account: accounts.overShort, amount: expected - counted },
  ]);

export interface SettledMember {
  memberId: string;
  guildShare: Minor;
  /** The member's part of the fee for cards: it lowers what the guild spends on it. */
  cardFee: Minor;
  fees: Minor;
  losses: Minor;
}

/**
 * Settlement: share, card fee and fees leave each member's account, and what is paid for missing
 * pieces comes to it; what stays is owed to the member. Adjustments were booked when decided.
 */
export function settlementPostings(members: readonly SettledMember[]): Posting[] {
  const sum = (figure: "guildShare" | "cardFee" | "fees" | "losses") =>
    total(members.map((one) => one[figure]));
  return entry([
    ...members.map(({ memberId, guildShare, cardFee, fees, losses }) => ({
      account: member(memberId),
      amount: total([guildShare, cardFee, fees, 0 - losses]),
    })),
    { account: accounts.guildShare, amount: 0 - sum("guildShare") },
    { account: accounts.cardFees, amount: 0 - sum("cardFee") },
    { account: accounts.fees, amount: 0 - sum("fees") },
    { account: accounts.losses, amount: sum("losses") },
  ]);
}

/**
 * An adjustment: above zero the guild owes the member more, below zero less. Throws for nothing.
 */
export function adjustmentPostings(memberId: string, amount: Minor): Posting[] {
  if (assertMinor(amount) === 0) throw new RangeError("An adjustment must not be zero.");
  return entry([
    { account: accounts.adjustments, amount },
    { account: member(memberId), amount: 0 - amount },
  ]);
}

/**
 * A payout: from the bank by cheque or transfer, from the cash box in cash. Taken back with
 * `negate`. Throws unless the amount is above zero.
 */
export function payoutPostings(
  memberId: string,
  amount: Minor,
  from: typeof accounts.bank | typeof accounts.cashBox = accounts.bank,
): Posting[] {
  if (assertMinor(amount) <= 0) throw new RangeError(`A payout must be above zero: ${amount}`);
  return entry([
    { account: member(memberId), amount },
    { account: from, amount: 0 - amount },
  ]);
}

function tenderAccount(kind: TenderKind | "exchange", tillId: string): string {
  const byKind = {
    cash: drawer(tillId),
    cheque: accounts.cheques,
    card: accounts.card,
    other: accounts.otherTender,
    exchange: accounts.exchange,
  };
  return byKind[kind];
}

function lineAccount({ kind, donated, suspended, memberId }: LineToPost): string {
  if (suspended) return accounts.suspense;
  if (donated) return accounts.donations;
  if (kind === "goods" || memberId === null) return accounts.guildGoods;
  return member(memberId);
}
