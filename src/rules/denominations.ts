import { digitsOf } from "./currency.ts";
import { denominationRows } from "./denomination-table.ts";
import { isMinor, type Minor, total } from "./money.ts";
import type { FieldError } from "./problem.ts";

/** A note or coin; `value` in smallest coins. What is not `usual` is counted but never offered. */
export interface Denomination {
  value: Minor;
  kind: "note" | "coin";
  usual: boolean;
}

/** How many of one note or coin. */
export interface CashCount {
  value: Minor;
  count: number;
}

export const mostOfOne = 99_999;

const known = new Map<string, readonly Denomination[]>();

/**
 * The notes and coins of a currency, largest first. A value that comes as both (the US dollar)
 * stands once, as the note: a count need not tell them apart. Currencies outside the table get
 * 1-2-5 of every power of ten. Throws for an unknown currency.
 */
export function denominationsOf(currency: string): readonly Denomination[] {
  const before = known.get(currency);
  if (before) return before;
  const unit = 10 ** digitsOf(currency);
  const row = denominationRows[currency];
  const fresh = row === undefined ? byPowers(unit) : readRow(row, digitsOf(currency));
  known.set(currency, fresh);
  return fresh;
}

/** What a count comes to; throws unless it passed `checkCounts`. */
export const countCash = (counts: readonly CashCount[]): Minor =>
  total(counts.map(({ value, count }) => value * count));

/** What is wrong with a count, field by field ("counts.0.count"). */
export function checkCounts(counts: readonly CashCount[], currency: string): FieldError[] {
  const values = new Set(denominationsOf(currency).map(({ value }) => value));
  return counts.flatMap(({ value, count }, index) => {
    const errors: FieldError[] = [];
    if (!values.has(value))
      errors.push({
        field: `counts.${index}.value`,
        message: `There is no such note or coin in ${currency}.`,
      });
    if (counts.findIndex((other) => other.value === value) < index)
      errors.push({ field: `counts.${index}.value`, message: "This is in the count already." });
    if (!isMinor(count) || count < 0 || count > mostOfOne)
      errors.push({
        field: `counts.${index}.count`,
        message: `Type how many, from 0 to ${mostOfOne}.`,
      });
    return errors;
  });
}

function readRow(row: string, digits: number): Denomination[] {
  const [notes = "", coins = ""] = row.split("|");
  const read = (text: string, kind: Denomination["kind"]) =>
    text
      .trim()
      .split(" ")
      .map((word) => ({ value: smallest(word, digits), kind, usual: !word.endsWith("*") }));
  const all = [...read(notes, "note"), ...read(coins, "coin")];
  return all.filter(({ value }, index) => all.findIndex((one) => one.value === value) === index);
}

/** "0.50" in smallest coins: the digits are moved as text, so that no fraction comes about. */
function smallest(word: string, digits: number): Minor {
  const [whole = "", fraction = ""] = word.replace("*", "").split(".");
  return Number(whole + fraction.padEnd(digits, "0"));
}

/** From the smallest coin to half a million units, which no currency in our table goes beyond. */
function byPowers(unit: number): Denomination[] {
  const values: Denomination[] = [];
  for (let power = 100_000 * unit; power >= 1; power /= 10)
    for (const step of [5, 2, 1])
      values.push({
        value: step * power,
        kind: step * power >= 5 * unit ? "note" : "coin",
        usual: true,
      });
  return values;
}
