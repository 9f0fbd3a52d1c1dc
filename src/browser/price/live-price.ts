import { amountText, formatMoney, parseMoney } from "../../rules/currency.ts";
import { priceWarnings } from "../../rules/price/price-help.ts";
import { shownAt } from "../../rules/price/price-rows.ts";
import { unpackScene } from "../../rules/price/slider.ts";
import { priceCells } from "../../rules/price/words.ts";

/** What moves with the price; what the guild and the card take is told where prices are found. */
export type Cells = Pick<ReturnType<typeof priceCells>, "left" | "pay" | "verdict">;

/** What the page gives: its texts, and ways of showing others in their place. */
export interface PriceParts {
  /** The terms of the sale and what the piece takes, as the server packed them. */
  scene: string;
  /** The percentages of the rows, in their order. */
  rates: readonly number[];
  setNumber(text: string): void;
  /** Takes smallest coins; `words` is what is spoken for them. */
  setSlider(price: number, words: string): void;
  showRow(index: number, cells: Cells): void;
  showWarnings(warnings: readonly string[]): void;
  /** Spoken once the price rests. */
  say(words: string): void;
}

/**
 * Works the pay out anew while the price moves, by the rules of the server and not by a copy. A
 * text that is no price yet leaves everything as it is: somebody is typing.
 */
export function livePrice(parts: PriceParts) {
  const { needs, card, tax, prices, locale } = unpackScene(parts.scene);
  const { currency } = prices;
  const money = (amount: number) => formatMoney(amount, currency, locale);

  function cellsAt(price: number, rate: number): Cells {
    const at = shownAt(price, needs, { rate, card, tax });
    const { left, pay, verdict } = priceCells(at, money);
    return { left, pay, verdict };
  }

  function show(price: number): void {
    for (const [index, rate] of parts.rates.entries()) parts.showRow(index, cellsAt(price, rate));
    parts.showWarnings(priceWarnings(price, prices));
  }

  return {
    typed(text: string): void {
      const read = parseMoney(text, currency);
      if (!read.ok || read.value === 0) return;
      parts.setSlider(read.value, money(read.value));
      show(read.value);
    },
    moved(price: number): void {
      parts.setNumber(amountText(price, currency));
      parts.setSlider(price, money(price));
      show(price);
    },
    rested(price: number): void {
      const [rate] = parts.rates;
      if (rate === undefined) return;
      const { pay, verdict } = cellsAt(price, rate);
      parts.say(`${money(price)}: ${pay}. ${verdict}.`);
    },
  };
}
