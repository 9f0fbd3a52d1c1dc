import { amountText, digitsOf } from "./currency.ts";
import type { Minor } from "./money.ts";

/** An entry to be written out: `account` is a written name, as `accountPath` makes it. */
export interface JournalEntryText {
  /** The day where the guild's clocks are, as "2026-11-27". */
  day: string;
  number: number;
  description: string;
  /** Debit is positive, credit is negative; the amounts sum to zero. */
  postings: readonly { account: string; amount: Minor }[];
}

/** The guild's own accounts by the key they are stored under, as a journal names them. */
const paths: Record<string, string> = {
  cheques: "assets:cheques",
  "card-clearing": "assets:card clearing",
  "other-tender": "assets:other tender",
  "cash-box": "assets:cash box",
  bank: "assets:bank",
  suspense: "liabilities:suspense",
  "guild-share": "income:guild share",
  fees: "income:fees",
  "guild-goods": "income:guild goods",
  donations: "income:donations",
  "cash-rounding": "income:cash rounding",
  "over-short": "expenses:over short",
  "card-fees": "expenses:card fees",
  safe: "assets:safe",
  "paid-in": "income:paid in",
  "paid-out": "expenses:paid out",
  exchange: "assets:exchange",
};

/** The written name of an account; drawers and members are named by their numbers. */
export function accountPath(
  key: string,
  whose: { tillNumber?: number | null; memberNumber?: number | null } = {},
): string {
  if (key.startsWith("drawer/") && whose.tillNumber)
    return `assets:drawer:till ${whose.tillNumber}`;
  if (key.startsWith("member/") && whose.memberNumber)
    return `liabilities:members:${whose.memberNumber}`;
  if (key.startsWith("tax/")) return `liabilities:tax:${key.slice(4)}`;
  const path = paths[key];
  if (path === undefined) throw new RangeError(`No written name for the account ${key}`);
  return path;
}

/**
 * The head of a plain-text journal that hledger and ledger both read: the currency with its
 * decimals and every account that may come up, so that their strict checks find a misspelt one.
 */
export function journalHead(accounts: readonly string[], currency: string): string {
  const digits = digitsOf(currency);
  // Both programs take the number of decimals from this line; the point must be there even
  // without decimals, or hledger cannot tell it from a mark between thousands.
  const format = `${currency} ${amountText(1000 * 10 ** digits, currency)}${digits === 0 ? "." : ""}`;
  const lines = [`commodity ${currency}`, `    format ${format}`];
  for (const account of [...new Set(accounts)].sort()) lines.push(`account ${account}`);
  return `${lines.join("\n")}\n`;
}

/** One entry in that form, with an empty line before it. Entries must come in order of their day. */
export function journalEntryText(entry: JournalEntryText, currency: string): string {
  const rows = entry.postings.map(
    ({ account, amount }) => `    ${account}  ${currency} ${amountText(amount, currency)}`,
  );
  const head = `${entry.day} * ${plain(entry.description)} (entry ${entry.number})`;
  return `\n${head}\n${rows.join("\n")}\n`;
}

/** A whole journal as one text. */
export const journalText = (
  accounts: readonly string[],
  entries: readonly JournalEntryText[],
  currency: string,
): string =>
  [
    journalHead(accounts, currency),
    ...entries.map((entry) => journalEntryText(entry, currency)),
  ].join("");

/**
 * Takes out what a journal would read as more than words: a semicolon starts a comment, a bar
 * parts payee and note, line breaks end the line, and a bracket at the start is a code.
 */
const plain = (words: string): string =>
  words
    .replace(/[;|\p{Cc}\p{Zl}\p{Zp}]/gu, " ")
    .replace(/\s+/g, " ")
    .replace(/^[\s([{*!=]+/, "")
    .trim();
