import { taxTitle } from "../../../rules/tax/tax-title.ts";
import { tenderWords } from "../../../rules/tender.ts";
import { isUntouched, withoutTender } from "./basket.ts";
import { icon, key, make, part, show } from "./dom.ts";
import type { Due } from "./figures.ts";
import { notReady, roundingWords } from "./payment.ts";
import type { Till } from "./till.ts";

/** Draws the sums, what has been taken, and whether the sale can be finished. */
export function showPayment(till: Till): void {
  const { basket, storing } = till.shown;
  const { scene, words } = till;
  const due = till.due();
  part("sums").replaceChildren(...sumRows(till, due));
  show("total-label", true, due.due < 0 ? "To give back" : basket.back ? "To pay" : "Total");
  show("total", true, words.money(Math.abs(due.due)));
  const rounded =
    due.due > 0 ? roundingWords(due.rounding, due.cashRest, scene.sale.cashStep, words.money) : "";
  const cashAsked = basket.tenders.every(({ kind }) => kind === "cash");
  show("rounding", rounded !== "" && cashAsked, rounded);
  part("tenders").replaceChildren(...basket.tenders.map((_, index) => tenderElement(till, index)));
  const paid = basket.tenders.length > 0;
  show("rest-row", paid);
  show("rest-label", true, due.rest > 0 ? "Still to pay" : "Change");
  show("rest", true, words.money(Math.abs(due.rest)));
  const reason = notReady(basket, scene, due);
  const record = part<HTMLButtonElement>("record");
  record.disabled = reason !== undefined || storing;
  record.textContent = recordWords(due, storing);
  show("not-ready", true, paid && reason ? reason : "");
  showKeys(till, due);
}

function recordWords({ due }: Due, storing: boolean): string {
  if (storing) return "Storing …";
  return due < 0 ? "Finish and give money back" : "Finish the sale";
}

/** Where the new pieces cost less, the same keys say how the difference goes back. */
function showKeys(till: Till, due: Due): void {
  const { basket, storing } = till.shown;
  const back = due.due < 0 && basket.lines.length > 0;
  for (const button of part("tender-keys").querySelectorAll("button")) {
    button.disabled = storing || basket.lines.length === 0 || (due.rest <= 0 && !back);
    const chosen = back && basket.back?.backBy === button.value;
    if (back) button.setAttribute("aria-pressed", String(chosen));
    else button.removeAttribute("aria-pressed");
  }
  for (const id of ["hold", "clear"])
    part<HTMLButtonElement>(id).disabled = isUntouched(basket) || storing;
}

function sumRows(till: Till, { totals, exchanged }: Due): HTMLElement[] {
  const { scene, words, shown } = till;
  const { included } = scene.sale.tax;
  const exempt = shown.basket.exemption;
  const pieces = shown.basket.lines.reduce((sum, { quantity }) => sum + quantity, 0);
  const rows: [string, string][] = [["Pieces", String(pieces)]];
  if (totals.discount > 0) rows.push(["Off for the last day", words.money(0 - totals.discount)]);
  rows.push([included ? "Of it before tax" : "Before tax", words.money(totals.subtotal)]);
  for (const { name, rate, tax, base } of totals.components)
    if (base !== 0) rows.push([taxTitle({ name, rate }), words.money(tax)]);
  if (exempt) rows.push(["No tax, certificate", exempt]);
  if (exchanged > 0) rows.push(["Paid by what comes back", words.money(0 - exchanged)]);
  return rows.map(([term, value]) => make("div", "", make("dt", "", term), make("dd", "", value)));
}

function tenderElement(till: Till, index: number): HTMLElement {
  const { kind, amount, reference } = till.shown.basket.tenders[index]!;
  const words = reference ? `${tenderWords[kind]}, ${reference}` : tenderWords[kind];
  const off = key(
    [icon("cross")],
    () => till.change({ basket: withoutTender(till.shown.basket, index) }),
    { classes: "quiet till-off", about: `Take out ${words}` },
  );
  return make(
    "li",
    "sell-line",
    make("span", "sell-line-name", words),
    make("span", "till-amount", till.words.money(amount)),
    off,
  );
}
