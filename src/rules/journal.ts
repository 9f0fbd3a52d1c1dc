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

/** An account as it is stored, with the numbers that people know its till or member by. */
export interface JournalAccount {
  key: string;
  kind: string;
  name: string;
  /** The sale and the number of the till whose drawer this is. */
  till?: { number: number; saleName: string; firstDay: string } | null;
  memberNumber?: number | null;
}

/** The first part of a written name, by the kind of account. */
const heads: Readonly<Record<string, string>> = {
  asset: "assets",
  liability: "liabilities",
  income: "income",
  expense: "expenses",
};

/**
 * The written name of an account: "liabilities:members:101". Every sale has drawers of its own, so
 * a drawer is named by its sale and till; the guild's own accounts by the names we give them.
 */
export function accountPath({ key, kind, name, till, memberNumber }: JournalAccount): string {
  if (till)
    return `assets:drawers:${till.firstDay} ${plainPart(till.saleName)}:till ${till.number}`;
  if (memberNumber) return `liabilities:members:${memberNumber}`;
  if (key.startsWith("tax/")) return `liabilities:tax:${plainPart(key.slice(4))}`;
  const head = heads[kind];
  if (head === undefined || /^(drawer|member)\//.test(key))
    throw new RangeError(`No written name for the account ${key}`);
  return `${head}:${plainPart(name).toLowerCase()}`;
}

/** A colon would open a sub-account, and two spaces would end the name. */
const plainPart = (words: string): string => plain(words.replaceAll(":", " ")) || "unnamed";

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
