import { currencies } from "./currency-table.ts";
import { assertMinor, type Minor, type Rate, wholeRate } from "./money.ts";
import { ok, type Result, refuseField } from "./problem.ts";
import { readTypedNumber } from "./typed-number.ts";

/** The most that one amount may be, in whole units of the currency. */
export const largestAmount = 9_999_999;

const digitsByCode = new Map(currencies.map(({ code, digits }) => [code, digits]));
const formatters = new Map<string, Intl.NumberFormat>();

export const isCurrency = (code: string): boolean => digitsByCode.has(code);

/** Digits after the decimal mark by ISO 4217; throws for a code outside our table. */
export function digitsOf(currency: string): number {
  const digits = digitsByCode.get(currency);
  if (digits === undefined) throw new RangeError(`Not a currency we know: ${currency}`);
  return digits;
}

/** A whole unit of a currency (a dollar, say) in its smallest coins. */
export const unitOf = (currency: string): Minor => 10 ** digitsOf(currency);

/** "12.50": a plain decimal with a point, for form fields, CSV and journals; whole coins in. */
export function amountText(amount: Minor, currency: string): string {
  return decimalText(assertMinor(amount), digitsOf(currency));
}

/**
 * An amount as the locale writes it ("$1,234.50"). Intl only draws the sign and the marks: the
 * digits come from the integer and their number from our own table, so no float is involved.
 */
export function formatMoney(amount: Minor, currency: string, locale: string): string {
  const key = `${locale} ${currency}`;
  const digits = digitsOf(currency);
  let formatter = formatters.get(key);
  if (!formatter) {
    formatter = new Intl.NumberFormat(locale, {
      style: "currency",
      currency,
      minimumFractionDigits: digits,
      maximumFractionDigits: digits,
    });
    formatters.set(key, formatter);
  }
  return formatter.format(amountText(amount, currency) as Intl.StringNumericLiteral);
}

/**
 * Reads what a person typed as an amount in whole smallest coins. Forgives spaces, the currency's
 * sign or code, and a comma or a point as decimal mark. Refuses, with a message that names the
 * fix: other currencies, amounts that can be read two ways, fractions of the smallest coin,
 * amounts below zero and amounts above `largestAmount`.
 */
export function parseMoney(text: string, currency: string, field = "amount"): Result<Minor> {
  const digits = digitsOf(currency);
  const bare = withoutSign(text, currency);
  if (bare === undefined)
    return refuseField(field, `This sale is in ${currency}. Type the amount in ${currency}.`);
  const example = decimalText(1250 * 10 ** Math.max(0, digits - 2), digits);
  const typed = readTypedNumber(bare, digits);
  if (typed === "empty") return refuseField(field, `Type an amount, for example ${example}.`);
  if (typed === "not-a-number")
    return refuseField(field, `This is not an amount. Type digits only, for example ${example}.`);
  if (typed === "ambiguous") return refuseField(field, twoReadings(bare, digits));
  if (typed.negative)
    return refuseField(field, "An amount cannot be below zero. Leave the minus out.");
  if (typed.fraction.length > digits) return refuseField(field, tooFine(currency, digits, example));
  if (typed.whole.length > 8 || exceeds(typed.whole, typed.fraction))
    return refuseField(
      field,
      `The most we can take here is ${largestAmount}. Type a smaller amount.`,
    );
  return ok(Number(typed.whole + typed.fraction.padEnd(digits, "0")));
}

/** Reads a percentage ("8.875", "25 %") of 0 to 100 with up to three decimals. */
export function parseRate(text: string, field = "rate"): Result<Rate> {
  const typed = readTypedNumber(text.normalize("NFKC").replace(/%\s*$/, ""), 3);
  if (typed === "empty" || typed === "ambiguous" || typed === "not-a-number")
    return refuseField(field, "Type a percentage in digits, for example 8.875.");
  if (typed.fraction.length > 3)
    return refuseField(field, "A percentage can have three digits after the point at most.");
  const rate = Number(typed.whole + typed.fraction.padEnd(3, "0"));
  if (typed.negative || typed.whole.length > 3 || rate > wholeRate)
    return refuseField(field, "A percentage lies between 0 and 100.");
  return ok(rate);
}

/** "8.875" for 8875 and "25" for 25000: as many decimals as the rate needs, up to three. */
export const rateText = (rate: Rate): string =>
  decimalText(assertMinor(rate), 3).replace(/\.?0+$/, "");

function decimalText(amount: number, digits: number): string {
  const sign = amount < 0 ? "-" : "";
  const text = String(Math.abs(amount)).padStart(digits + 1, "0");
  if (digits === 0) return sign + text;
  return `${sign}${text.slice(0, -digits)}.${text.slice(-digits)}`;
}

const exceeds = (whole: string, fraction: string) =>
  Number(whole) > largestAmount || (Number(whole) === largestAmount && /[1-9]/.test(fraction));

/** Takes a currency sign or code off either end; undefined when the code is another currency's. */
function withoutSign(text: string, currency: string): string | undefined {
  const compact = text.normalize("NFKC").trim();
  const code = /^\p{L}{3}(?=[^\p{L}]|$)|(?<![\p{L}])\p{L}{3}$/u.exec(compact)?.[0].toUpperCase();
  if (code !== undefined && code !== currency && isCurrency(code)) return undefined;
  const sign = code === currency ? currency : String.raw`\p{L}{0,2}\p{Sc}|kr\.?|fr\.?|zł|Kč|Ft`;
  const ends = new RegExp(`^([-−–(]?)\\s*(?:${sign})|(?:${sign})\\s*([-)]?)$`, "iu");
  return compact.replace(ends, "$1$2");
}

function twoReadings(text: string, digits: number): string {
  const joined = text.replace(/\D/g, "");
  return (
    `This could be read two ways. For ${joined} type ${joined} without a mark; ` +
    `otherwise give ${digits} digits after the point.`
  );
}

function tooFine(currency: string, digits: number, example: string): string {
  if (digits === 0)
    return `${currency} has no smaller coins. Type a whole amount, such as ${example}.`;
  return `Type at most ${digits} digits after the point, for example ${example}.`;
}
