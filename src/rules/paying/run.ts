import type { Minor } from "../money.ts";
import type { PayoutMethod } from "../statement.ts";
import { amountInWords } from "./amount-words.ts";
import type { BankAccount } from "./bank-account.ts";
import { chequeLanguage } from "./cheque-language.ts";
import { runReference } from "./run-reference.ts";
import type { TransferOrder } from "./transfer-order.ts";

/** What stood around a run on the day it was prepared. */
export interface RunHeading {
  guildName: string;
  guildLines: string[];
  /** The sale's name, or null for all sales. */
  saleName: string | null;
  currency: string;
  locale: string;
  timeZone: string;
  paper: "letter" | "a4";
  payer: BankAccount & { name: string };
}

export type RunOutcome = "paid" | "dropped";

export interface RunItem {
  position: number;
  statementId: string;
  statementNumber: number;
  memberId: string;
  memberNumber: number;
  payee: string;
  account: string;
  bank: string;
  amount: Minor;
  message: string;
  reference: string;
  /** Null while it waits. */
  outcome: RunOutcome | null;
  /** Why it was dropped. */
  reason: string;
  payoutId: string | null;
  /** The payout that it became was taken back. */
  voided: boolean;
  endedBy: string;
  endedAt: Date | null;
}

/** A run as it was frozen; only the outcomes of its items come later. */
export interface PreparedRun {
  id: string;
  number: number;
  method: PayoutMethod;
  saleId: string | null;
  /** The day that stands on the cheques or on which the bank is to pay, as "2026-12-05". */
  day: string;
  heading: RunHeading;
  byName: string;
  at: Date;
  items: RunItem[];
}

/** What the files of a run hold: everything that was not dropped, whether it is paid by now or not. */
export const standing = ({ items }: PreparedRun): RunItem[] =>
  items.filter(({ outcome }) => outcome !== "dropped");

/** A run of transfers as the order that its files are written from. */
export const orderOf = (run: PreparedRun): TransferOrder => ({
  reference: runReference(run.number),
  createdAt: run.at.toISOString(),
  day: run.day,
  currency: run.heading.currency,
  payer: { ...run.heading.payer, bank: run.heading.payer.bank || null },
  transfers: standing(run).map(({ reference, payee, account, bank, amount, message }) => ({
    ...{ reference, name: payee, account, bank: bank || null, amount, message },
  })),
});

/** An amount as its cheque says it, in the language of the guild's locale. */
export const chequeWords = (amount: Minor, { currency, locale }: RunHeading): string =>
  amountInWords(amount, currency, chequeLanguage(locale));
