import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  amountText,
  digitsOf,
  formatMoney,
  isCurrency,
  parseMoney,
  parseRate,
  rateText,
} from "../../src/rules/currency.ts";
import { currencies } from "../../src/rules/currency-table.ts";
import type { Result } from "../../src/rules/problem.ts";

const messageOf = (result: Result<unknown>) =>
  result.ok ? `accepted ${result.value}` : result.problem.errors[0]!.message;

describe("the ISO 4217 table", () => {
  // ISO 4217 list one (minor units) and Debian iso-codes (numeric codes).
  test.each([
    ["JPY", "392", 0],
    ["ISK", "352", 0],
    ["USD", "840", 2],
    ["AUD", "036", 2],
    ["HUF", "348", 2],
    ["COP", "170", 2],
    ["MGA", "969", 2],
    ["IQD", "368", 3],
    ["KWD", "414", 3],
    ["CLF", "990", 4],
  ])("%s is %s with %i digits", (code, numeric, digits) => {
    expect(currencies.find((one) => one.code === code)).toEqual({ code, numeric, digits });
    expect(digitsOf(code)).toBe(digits);
  });

  test("is well formed and holds every code once", () => {
    for (const { code, numeric, digits } of currencies)
      expect(`${code} ${numeric} ${digits}`).toMatch(/^[A-Z]{3} \d{3} [0-4]$/);
    expect(new Set(currencies.map(({ code }) => code)).size).toBe(currencies.length);
    expect(new Set(currencies.map(({ numeric }) => numeric)).size).toBe(currencies.length);
  });

  test("knows no other codes", () => {
    expect(isCurrency("USD")).toBe(true);
    expect(isCurrency("usd")).toBe(false);
    expect(() => digitsOf("ZZZ")).toThrow("ZZZ");
  });
});

describe("amounts as text", () => {
  test.each([
    [1250, "USD", "12.50"],
    [5, "USD", "0.05"],
    [0, "USD", "0.00"],
    [-320, "USD", "-3.20"],
    [1250, "JPY", "1250"],
    [1250, "KWD", "1.250"],
    [Number.MAX_SAFE_INTEGER, "USD", "90071992547409.91"],
  ])("%i %s is %s", (amount, currency, text) => {
    expect(amountText(amount, currency)).toBe(text);
  });

  test.each([
    [123450, "USD", "en-US", "$1,234.50"],
    [-500, "USD", "en-US", "-$5.00"],
    [123450, "HUF", "en-US", "HUF 1,234.50"],
    [1250, "JPY", "en-US", "¥1,250"],
    [123450, "EUR", "de-DE", "1.234,50 €"],
    [Number.MAX_SAFE_INTEGER, "USD", "en-US", "$90,071,992,547,409.91"],
  ])("%i %s in %s reads %s", (amount, currency, locale, text) => {
    expect(formatMoney(amount, currency, locale).replace(/\u00a0/g, " ")).toBe(text);
  });
});

describe("typed amounts", () => {
  test.each([
    ["12.50", 1250],
    ["12,50", 1250],
    ["12", 1200],
    ["12.5", 1250],
    [".50", 50],
    ["0.05", 5],
    ["007", 700],
    [" $ 12.50 ", 1250],
    ["US$12.50", 1250],
    ["12.50 usd", 1250],
    ["USD 12.50", 1250],
    ["1,234.50", 123450],
    ["1.234,50", 123450],
    ["1 234,50", 123450],
    ["1\u00a0234", 123400],
    ["1'234.50", 123450],
    ["1,234,567", 123456700],
    ["12.50\u200b", 1250],
    ["１２．５０", 1250],
    ["9999999", 999999900],
    ["0", 0],
  ])("“%s” is %i cents", (text, cents) => {
    expect(parseMoney(text, "USD")).toEqual({ ok: true, value: cents });
  });

  test.each([
    ["1250", "JPY", 1250],
    ["1,250", "JPY", 1250],
    ["1.250", "KWD", 1250],
    ["12,50 €", "EUR", 1250],
    ["120 kr", "SEK", 12000],
    ["kr. 120", "DKK", 12000],
  ])("“%s” in %s is %i", (text, currency, amount) => {
    expect(parseMoney(text, currency)).toEqual({ ok: true, value: amount });
  });

  test.each([
    ["", "Type an amount"],
    ["  ", "Type an amount"],
    ["twelve", "not an amount"],
    ["12 50", "not an amount"],
    ["12.", "not an amount"],
    ["1.2.3", "not an amount"],
    ["1e3", "not an amount"],
    ["12.50.00", "not an amount"],
    ["1,234", "For 1234 type 1234 without a mark; otherwise give 2 digits"],
    ["$1.234", "two ways"],
    ["12.505", "two ways"],
    ["0.125", "at most 2 digits"],
    ["1234.567", "at most 2 digits"],
    ["-5", "below zero"],
    ["−5.00", "below zero"],
    ["(5.00)", "below zero"],
    ["$-5.00", "below zero"],
    ["12.50 EUR", "This sale is in USD"],
    ["9999999.01", "The most"],
    ["10000000", "The most"],
    ["99999999999999999999", "The most"],
  ])("“%s” is refused: %s", (text, message) => {
    expect(messageOf(parseMoney(text, "USD"))).toContain(message);
  });

  test("a currency without small coins takes whole amounts only", () => {
    expect(messageOf(parseMoney("12.5", "JPY"))).toContain("no smaller coins");
  });

  test("a refusal names the field it was asked for", () => {
    const result = parseMoney("x", "USD", "tenders.1.amount");
    expect(result).toMatchObject({ problem: { errors: [{ field: "tenders.1.amount" }] } });
  });

  test("what we write, we read back, in every currency", () => {
    const codes = fc.constantFrom(...currencies.map(({ code }) => code));
    fc.assert(
      fc.property(codes, fc.integer({ min: 0, max: 9_999_999 }), (currency, amount) => {
        const readBack = parseMoney(amountText(amount, currency), currency);
        expect(readBack).toEqual({ ok: true, value: amount });
      }),
    );
  });

  test("no text at all breaks it, and nothing negative or fractional comes out", () => {
    const typed = fc.string({ unit: fc.constantFrom(..."0123456789.,' -−()$€Ekr") });
    fc.assert(
      fc.property(fc.oneof(typed, fc.string({ unit: "grapheme" })), (text) => {
        const result = parseMoney(text, "USD");
        if (result.ok) expect(Number.isSafeInteger(result.value) && result.value >= 0).toBe(true);
        else expect(messageOf(result)).toMatch(/\.$/);
      }),
    );
  });
});

describe("percentages", () => {
  test.each([
    ["8.875", 8875],
    ["8,875", 8875],
    ["25", 25000],
    ["25 %", 25000],
    ["12.5%", 12500],
    ["0", 0],
    ["100", 100_000],
  ])("“%s” is %i thousandths", (text, rate) => {
    expect(parseRate(text)).toEqual({ ok: true, value: rate });
  });

  test.each([
    ["", "in digits"],
    ["a quarter", "in digits"],
    ["8.8751", "three digits"],
    ["100.001", "between 0 and 100"],
    ["1000", "between 0 and 100"],
    ["-1", "between 0 and 100"],
  ])("“%s” is refused: %s", (text, message) => {
    expect(messageOf(parseRate(text))).toContain(message);
  });

  test("are written with as many decimals as they need, and read back", () => {
    expect([8875, 25000, 12500, 0, 100_000, 50].map(rateText)).toEqual([
      "8.875",
      "25",
      "12.5",
      "0",
      "100",
      "0.05",
    ]);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (rate) => {
        expect(parseRate(rateText(rate))).toEqual({ ok: true, value: rate });
      }),
    );
  });
});
