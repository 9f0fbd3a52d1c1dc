import { accounts, entry, type Posting } from "./ledger.ts";
import { assertMinor, type Minor } from "./money.ts";

/** From where something is taken to the bank: each is the key of its account. */
export const depositSources = [accounts.cashBox, accounts.safe, accounts.cheques] as const;

export type DepositSource = (typeof depositSources)[number];

/** The words for people, in the order in which they are offered. */
export const depositWords: Record<DepositSource, string> = {
  "cash-box": "Cash from the cash box",
  safe: "Cash from the safe",
  cheques: "Cheques",
};

/** Cash or cheques go to the bank; taken back with `negate`. Throws unless above zero. */
export function depositPostings(source: DepositSource, amount: Minor): Posting[] {
  if (assertMinor(amount) <= 0) throw new RangeError(`A deposit must be above zero: ${amount}`);
  return entry([
    { account: accounts.bank, amount },
    { account: source, amount: 0 - amount },
  ]);
}

/**
 * What the card processor owed the guild for a day comes to the bank, less the fee it keeps; taken
 * back with `negate`. Throws for amounts below zero, and for a fee above what was taken unless the
 * fee stands alone.
 */
export function cardTotalPostings({ gross, fee }: { gross: Minor; fee: Minor }): Posting[] {
  if (assertMinor(gross) < 0 || assertMinor(fee) < 0 || (gross > 0 && fee > gross))
    throw new RangeError(`A card total cannot be ${gross} with a fee of ${fee}`);
  return entry([
    { account: accounts.bank, amount: gross - fee },
    { account: accounts.cardFees, amount: fee },
    { account: accounts.card, amount: 0 - gross },
  ]);
}
