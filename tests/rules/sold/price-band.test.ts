import { expect, test } from "vitest";
import { formatMoney } from "../../../src/rules/currency.ts";
import { bandEdges, bandOf, bandWords } from "../../../src/rules/sold/price-band.ts";

const dollars = (amount: number) => formatMoney(amount, "USD", "en-US");

test.each([
  [0, 0, "Under $10"],
  [999, 0, "Under $10"],
  [1_000, 1, "$10 to under $20"],
  [4_999, 2, "$20 to under $50"],
  [5_000, 3, "$50 to under $100"],
  [50_000, 6, "$500 and more"],
])("%i cents lie in band %i", (price, band, words) => {
  expect(bandOf(price, "USD")).toBe(band);
  expect(bandWords(band, "USD", dollars)).toBe(words);
});

test("the steps are those of the guild's currency", () => {
  expect(bandEdges("JPY")[0]).toBe(1_000);
  expect(bandEdges("KWD")[0]).toBe(10_000);
  expect(bandOf(999, "JPY")).toBe(0);
  const yen = (amount: number) => formatMoney(amount, "JPY", "en-US");
  expect(bandWords(1, "JPY", yen)).toBe("¥1,000 to under ¥2,000");
  const euros = (amount: number) => formatMoney(amount, "EUR", "de-DE").replace(/\s/g, " ");
  expect(bandWords(6, "EUR", euros)).toBe("500 € and more");
});
