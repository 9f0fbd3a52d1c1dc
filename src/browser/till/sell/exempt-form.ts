import { ask } from "./ask.ts";
import { part } from "./dom.ts";
import type { Till } from "./till.ts";

/** Takes the tax off for a buyer with a certificate, whose number stands on the receipt. */
export function wireExempt(till: Till): void {
  part("exempt").addEventListener("click", () => {
    ask("ask-exempt", {
      start: { number: till.shown.basket.exemption },
      take({ number = "" }) {
        till.change({ basket: { ...till.shown.basket, exemption: number }, signal: undefined });
        return undefined;
      },
    });
  });
}
