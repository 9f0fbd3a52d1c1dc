import { digitsOf } from "../currency.ts";
import type { Language } from "../labels/language.ts";
import { assertMinor, type Minor } from "../money.ts";
import { type Unit, unitOf } from "./units.ts";
import { englishNumber } from "./words/english.ts";
import { frenchNumber } from "./words/french.ts";
import { germanNumber } from "./words/german.ts";
import { spanishNumber } from "./words/spanish.ts";

/** The most whole units that are put into words; far above what one sale brings. */
export const mostInWords = 999_999_999;

/**
 * An amount in words as it stands on a cheque, with a capital at the start: "One hundred
 * ninety-four and 05/100 dollars". Units are words, smaller coins a fraction of the unit with as
 * many digits as ISO 4217 gives the currency (1/1000 of a dinar, nothing for a yen); British
 * pounds end with "and 05p" or "only". `amount` is in smallest coins. Throws for a currency
 * outside our table, for nothing or less, and above `mostInWords` units.
 */
export function amountInWords(amount: Minor, currency: string, language: Language): string {
  const digits = digitsOf(currency);
  const base = 10 ** digits;
  const units = Math.floor(assertMinor(amount) / base);
  if (amount <= 0 || units > mostInWords)
    throw new RangeError(`Not an amount for a cheque: ${amount} ${currency}`);
  const coins = String(amount % base).padStart(digits, "0");
  const text = sentence({
    units,
    unit: unitOf(currency, language),
    coins: digits === 0 ? "" : coins,
    fraction: `${coins}/${base}`,
    language,
    pence: currency === "GBP",
  });
  return text.charAt(0).toUpperCase() + text.slice(1);
}

interface Parts {
  units: number;
  unit: Unit;
  /** The digits after the point; empty for a currency without smaller coins. */
  coins: string;
  fraction: string;
  language: Language;
  pence: boolean;
}

function sentence(parts: Parts): string {
  const { units, unit, coins, fraction, language } = parts;
  const name = units === 1 ? unit.one : unit.many;
  switch (language) {
    case "en-US":
      // A fraction before the name makes it plural, also of one dollar.
      return coins === ""
        ? `${englishNumber(units, false)} ${name}`
        : `${englishNumber(units, false)} and ${fraction} ${unit.many}`;
    case "en-GB":
      return `${englishNumber(units, true)} ${name}${britishCoins(parts)}`;
    case "fr": {
      // French counts in the plural from two on.
      const called = units < 2 ? unit.one : unit.many;
      const de = wholeMillions(units) ? (/^[aeiou]/i.test(called) ? "d'" : "de ") : "";
      return `${frenchNumber(units, unit.feminine)} ${de}${called}${tail("et", coins, fraction)}`;
    }
    case "es": {
      const de = wholeMillions(units) ? "de " : "";
      return `${spanishNumber(units, unit.feminine)} ${de}${name}${tail("con", coins, fraction)}`;
    }
    case "de":
      return `${germanNumber(units)} ${name}${tail("und", coins, fraction)}`;
  }
}

const wholeMillions = (units: number): boolean => units > 0 && units % 1_000_000 === 0;

const tail = (link: string, coins: string, fraction: string): string =>
  coins === "" ? "" : ` ${link} ${fraction}`;

function britishCoins({ coins, fraction, pence }: Parts): string {
  if (/^0*$/.test(coins)) return " only";
  return pence ? ` and ${coins}p` : ` and ${fraction}`;
}
