import { accounts, drawer, entry, member, type Posting } from "./ledger.ts";
import { assertMinor, type Minor, total } from "./money.ts";
import type { TenderKind } from "./tender.ts";

interface LineToPost {
  memberId: string;
  donated: boolean;
  amount: Minor;
}

interface TenderToPost {
  kind: TenderKind;
  amount: Minor;
}

/** A receipt: tenders in as debits; each member's account, donations and tax as credits. */
export function receiptPostings(
  receipt: { lines: readonly LineToPost[]; tax: Minor; tenders: readonly TenderToPost[] },
  tillId: string,
): Posting[] {
  return entry([
    ...receipt.tenders.map(({ kind, amount }) => ({
      account: tenderAccount(kind, tillId),
      amount,
    })),
    ...receipt.lines.map((line) => ({ account: lineAccount(line), amount: 0 - line.amount })),
    { account: accounts.tax, amount: 0 - receipt.tax },
  ]);
}

/**
 * A return or a void: line amounts and tax come negative as `computeReversal` gives them, tender
 * amounts positive as the money that goes back to the buyer.
 */
export function reversalPostings(
  reversal: { lines: readonly LineToPost[]; tax: Minor; tenders: readonly TenderToPost[] },
  tillId: string,
): Posting[] {
  const tenders = reversal.tenders.map(({ kind, amount }) => ({ kind, amount: 0 - amount }));
  return receiptPostings({ ...reversal, tenders }, tillId);
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

/** Settlement: the guild's share leaves each member's account; what stays is owed to the member. */
export const settlementPostings = (
  members: readonly { memberId: string; guildShare: Minor }[],
): Posting[] =>
  entry([
    ...members.map(({ memberId, guildShare }) => ({
      account: member(memberId),
      amount: guildShare,
    })),
    {
      account: accounts.guildShare,
      amount: 0 - total(members.map(({ guildShare }) => guildShare)),
    },
  ]);

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

function tenderAccount(kind: TenderKind, tillId: string): string {
  const byKind = {
    cash: drawer(tillId),
    cheque: accounts.cheques,
    card: accounts.card,
    other: accounts.otherTender,
  };
  return byKind[kind];
}

const lineAccount = ({ donated, memberId }: LineToPost): string =>
  donated ? accounts.donations : member(memberId);
