import { key, make, part } from "./dom.ts";
import type { Till } from "./till.ts";

/** Reminds at the desk that pieces come back in exchange, and lets the cashier drop that. */
export function showBack(till: Till): void {
  const { back } = till.shown.basket;
  const place = part("back-words");
  place.hidden = back === undefined;
  if (!back) return;
  place.replaceChildren(
    make(
      "span",
      "",
      `Exchange: pieces of receipt ${back.saleName} pay ${till.words.money(back.worth)}. Scan what is taken instead.`,
    ),
    key("No exchange", () => till.change({ basket: { ...till.shown.basket, back: undefined } })),
  );
}
