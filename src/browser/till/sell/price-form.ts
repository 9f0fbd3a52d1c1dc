import { amountText, parseMoney } from "../../../rules/currency.ts";
import { ask } from "./ask.ts";
import { type TillLine, withTagPrice } from "./basket.ts";
import type { Till } from "./till.ts";

/** Corrects a price to the one that is printed on the tag, with the reason on the receipt. */
export function askPrice(till: Till, line: TillLine): void {
  const { currency } = till.scene.guild;
  ask("ask-price", {
    about: `${line.description} is ${till.words.money(line.listPrice)} in the list. Only the price on the tag can be taken instead.`,
    start: { price: amountText(line.unitPrice, currency) },
    take({ price = "", reason = "" }) {
      const amount = parseMoney(price, currency);
      if (!amount.ok) return amount.problem.detail;
      if (amount.value === 0) return "A price must be above zero.";
      till.change({ basket: withTagPrice(till.shown.basket, line.key, amount.value, reason) });
      return undefined;
    },
  });
}
