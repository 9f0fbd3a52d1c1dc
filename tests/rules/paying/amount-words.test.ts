import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { digitsOf } from "../../../src/rules/currency.ts";
import { currencies } from "../../../src/rules/currency-table.ts";
import { type Language, languages } from "../../../src/rules/labels/language.ts";
import { amountInWords, mostInWords } from "../../../src/rules/paying/amount-words.ts";
import { readNumber } from "./words-reader.ts";

// From memory: no word library is installed to compare with.
const written: [number, string, Language, string][] = [
  [19400, "USD", "en-US", "One hundred ninety-four and 00/100 dollars"],
  [100, "USD", "en-US", "One and 00/100 dollars"],
  [45, "USD", "en-US", "Zero and 45/100 dollars"],
  [100_000_001, "CAD", "en-US", "One million and 01/100 dollars"],
  [1234567, "USD", "en-US", "Twelve thousand three hundred forty-five and 67/100 dollars"],
  [1250, "JPY", "en-US", "One thousand two hundred fifty JPY"],
  [1250, "KWD", "en-US", "One and 250/1000 KWD"],
  [12345, "CLF", "en-US", "One and 2345/10000 CLF"],
  [19405, "GBP", "en-GB", "One hundred and ninety-four pounds and 05p"],
  [19400, "GBP", "en-GB", "One hundred and ninety-four pounds only"],
  [100, "GBP", "en-GB", "One pound only"],
  [100500, "GBP", "en-GB", "One thousand and five pounds only"],
  [110500, "GBP", "en-GB", "One thousand one hundred and five pounds only"],
  [100_500_000, "GBP", "en-GB", "One million five thousand pounds only"],
  [2150, "AUD", "en-GB", "Twenty-one dollars and 50/100"],
  [12, "JPY", "en-GB", "Twelve JPY only"],
  [19405, "EUR", "fr", "Cent quatre-vingt-quatorze euros et 05/100"],
  [45, "EUR", "fr", "Zéro euro et 45/100"],
  [100, "EUR", "fr", "Un euro et 00/100"],
  [2100, "EUR", "fr", "Vingt et un euros et 00/100"],
  [7100, "EUR", "fr", "Soixante et onze euros et 00/100"],
  [7700, "EUR", "fr", "Soixante-dix-sept euros et 00/100"],
  [8000, "EUR", "fr", "Quatre-vingts euros et 00/100"],
  [8100, "EUR", "fr", "Quatre-vingt-un euros et 00/100"],
  [8100, "GBP", "fr", "Quatre-vingt-une livres et 00/100"],
  [9100, "EUR", "fr", "Quatre-vingt-onze euros et 00/100"],
  [20000, "EUR", "fr", "Deux cents euros et 00/100"],
  [20100, "EUR", "fr", "Deux cent un euros et 00/100"],
  [20_000_000, "EUR", "fr", "Deux cent mille euros et 00/100"],
  [8_000_000, "EUR", "fr", "Quatre-vingt mille euros et 00/100"],
  [100_000, "EUR", "fr", "Mille euros et 00/100"],
  [100_000_000, "EUR", "fr", "Un million d'euros et 00/100"],
  [20_000_000_000, "CAD", "fr", "Deux cents millions de dollars et 00/100"],
  [100_000_100, "EUR", "fr", "Un million un euros et 00/100"],
  [19405, "EUR", "es", "Ciento noventa y cuatro euros con 05/100"],
  [100, "EUR", "es", "Un euro con 00/100"],
  [100, "GBP", "es", "Una libra con 00/100"],
  [2100, "EUR", "es", "Veintiún euros con 00/100"],
  [2100, "GBP", "es", "Veintiuna libras con 00/100"],
  [3100, "EUR", "es", "Treinta y un euros con 00/100"],
  [10000, "EUR", "es", "Cien euros con 00/100"],
  [10100, "EUR", "es", "Ciento un euros con 00/100"],
  [50000, "EUR", "es", "Quinientos euros con 00/100"],
  [20_000_000, "GBP", "es", "Doscientas mil libras con 00/100"],
  [2_100_000, "EUR", "es", "Veintiún mil euros con 00/100"],
  [100_000_000, "EUR", "es", "Un millón de euros con 00/100"],
  [100_010_000, "EUR", "es", "Un millón cien euros con 00/100"],
  [20_000_000_000, "GBP", "es", "Doscientos millones de libras con 00/100"],
  [125000, "MXN", "es", "Mil doscientos cincuenta MXN con 00/100"],
  [19405, "EUR", "de", "Einhundertvierundneunzig Euro und 05/100"],
  [100, "EUR", "de", "Ein Euro und 00/100"],
  [2100, "EUR", "de", "Einundzwanzig Euro und 00/100"],
  [10100, "EUR", "de", "Einhunderteins Euro und 00/100"],
  [10_100_000, "EUR", "de", "Einhunderteintausend Euro und 00/100"],
  [161700, "CHF", "de", "Eintausendsechshundertsiebzehn Franken und 00/100"],
  [100_000_100, "EUR", "de", "Eine Million eins Euro und 00/100"],
  [200_000_000, "EUR", "de", "Zwei Millionen Euro und 00/100"],
];

describe("an amount in words", () => {
  test.each(written)("%i %s in %s", (amount, currency, language, text) => {
    expect(amountInWords(amount, currency, language)).toBe(text);
  });

  test("refuses what no cheque is made out for", () => {
    for (const amount of [0, -100, 0.5, (mostInWords + 1) * 100])
      expect(() => amountInWords(amount, "USD", "en-US")).toThrow(RangeError);
    expect(() => amountInWords(100, "ZZZ", "en-US")).toThrow("ZZZ");
    expect(amountInWords(mostInWords * 100 + 99, "USD", "en-US")).toMatch(/^Nine hundred/);
  });

  test.each(languages)("reads back as the same amount in %s", (language) => {
    const units = fc.oneof(fc.nat(2200), fc.nat(999_999), fc.nat(mostInWords));
    const currency = fc.constantFrom(...currencies.map(({ code }) => code));
    fc.assert(
      fc.property(units, fc.nat(9999), currency, (whole, coins, code) => {
        const base = 10 ** digitsOf(code);
        const amount = whole * base + (coins % base);
        fc.pre(amount > 0);
        expect(readAmount(amountInWords(amount, code, language), code, language)).toBe(amount);
      }),
      { numRuns: 1500 },
    );
  });
});

const unitWords =
  / (?:d'|de )?(dollars?|pounds?|livres?|libras?|d[oó]lar(?:es)?|euros?|[Ff]ran(?:cs?|cos?|ken)|Dollar|Euro|Pfund|[A-Z]{3})\b/u;

/** Reads the whole line of a cheque back into smallest coins. */
function readAmount(text: string, currency: string, language: Language): number {
  const base = 10 ** digitsOf(currency);
  const bare = text.replace(/ only$/, "").replace(unitWords, "");
  const coins = / (?:and|et|con|und) (\d+)(?:p|\/(\d+))$/.exec(bare);
  if (coins?.[2] !== undefined) expect(Number(coins[2])).toBe(base);
  const words = coins ? bare.slice(0, coins.index) : bare;
  return readNumber(words, language) * base + Number(coins?.[1] ?? 0);
}
