import type { FieldError } from "../problem.ts";
import { ibanFaultWords, isBic, readIban } from "./iban.ts";

/** How somebody is paid through a bank, as typed; texts that are not known are empty. */
export interface BankAccount {
  account: string;
  bank: string;
}

/** The shortest account number of ISO 13616 has 15 characters (Norway). */
const shortestIban = 15;

/**
 * What is wrong with an account and a bank's code. A number that looks like an international one
 * must be one to its last digit; the numbers of other countries have no check that all share, so
 * they are taken as they are and go to the bank on the list, not in its message.
 */
export function accountFaults({ account, bank }: BankAccount): FieldError[] {
  const read = readIban(account);
  if ("iban" in read)
    return bank === "" || isBic(bank)
      ? []
      : [{ field: "bank", message: "A bank code (BIC) has 8 or 11 letters and digits." }];
  if (read.fault === "shape") return [];
  const long = account.replace(/[\s-]/g, "").length >= shortestIban;
  return long || read.fault !== "country"
    ? [{ field: "account", message: ibanFaultWords[read.fault] }]
    : [];
}

/** Spaces fall off an international account number; others stay as they were typed. */
export function tidyAccount(account: string): string {
  const read = readIban(account);
  return "iban" in read ? read.iban : account.trim();
}

/** "ends in 6789", which tells accounts apart and gives none away. */
export const accountEnding = (account: string): string =>
  account === "" ? "" : `ends in ${account.replace(/[^\p{L}\p{N}]/gu, "").slice(-4)}`;
