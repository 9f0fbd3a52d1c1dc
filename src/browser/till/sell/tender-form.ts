import { likelyNotes } from "../../../rules/change.ts";
import { amountText } from "../../../rules/currency.ts";
import { readTag } from "../../../rules/tag-number.ts";
import type { TenderInput, TenderKind } from "../../../rules/tender.ts";
import { withTender } from "./basket.ts";
import { checkFloor } from "./check-floor.ts";
import { key, part, show } from "./dom.ts";
import { readTender, tenderFields } from "./payment.ts";
import { takeScan } from "./take-scan.ts";
import type { Till } from "./till.ts";

/** Chooses a way to pay: its form opens, or in an exchange it says how money goes back. */
export function chooseTender(till: Till, kind: TenderKind): void {
  const { basket, storing } = till.shown;
  const due = till.due();
  if (storing || basket.lines.length === 0) return;
  if (due.due < 0 && basket.back)
    till.change({ basket: { ...basket, back: { ...basket.back, backBy: kind } } });
  if (due.rest <= 0) return;
  till.change({ paying: kind, signal: undefined });
  openForm(till, kind);
  void checkFloor(till);
}

export function closeTender(till: Till): void {
  if (till.shown.paying) till.change({ paying: undefined });
}

/** The form is open exactly while a way to pay is chosen. */
export function showTenderForm(till: Till): void {
  show("tender-form", till.shown.paying !== undefined);
  part("tender-keys").hidden = till.shown.paying !== undefined;
}

function openForm(till: Till, kind: TenderKind): void {
  const { rest, cashRest } = till.due();
  const { currency } = till.scene.guild;
  const { money } = till.words;
  show("tender-rest", true, `${money(kind === "cash" ? cashRest : rest)} to pay`);
  show("tender-amount-label", true, tenderFields[kind].amount);
  show("tender-reference-label", true, tenderFields[kind].reference);
  show("tender-reference-field", kind !== "cash");
  const amount = part<HTMLInputElement>("tender-amount");
  part<HTMLInputElement>("tender-reference").value = "";
  amount.value = kind === "cash" ? "" : amountText(rest, currency);
  showError("");
  const offers = kind === "cash" ? likelyNotes(Math.max(cashRest, 0), currency) : [];
  part("notes").replaceChildren(
    ...offers.map((offer) => key(money(offer), () => take(till, { kind, amount: offer }))),
  );
  amount.focus();
  amount.select();
}

export function wireTenderForm(till: Till): void {
  for (const button of part("tender-keys").querySelectorAll("button"))
    button.addEventListener("click", () => chooseTender(till, button.value as TenderKind));
  part("tender-close").addEventListener("click", () => {
    closeTender(till);
    part("scan").focus();
  });
  part("tender-form").addEventListener("submit", (event) => {
    event.preventDefault();
    submit(till);
  });
}

function submit(till: Till): void {
  const kind = till.shown.paying;
  if (!kind) return;
  const { currency, tagLength } = till.scene.guild;
  const amount = part<HTMLInputElement>("tender-amount");
  // A scanner too slow to be told from a hand types tags into this field.
  if (readTag(amount.value, [tagLength === 10 ? 10 : 8]).ok) {
    const text = amount.value;
    amount.value = "";
    takeScan(till, text);
    return;
  }
  const reference = part<HTMLInputElement>("tender-reference").value;
  const tender = readTender(
    kind,
    { amount: amount.value, reference },
    till.due(),
    currency,
    till.words.money,
  );
  if (tender.ok) take(till, tender.value);
  else showError(tender.problem.detail);
}

function take(till: Till, tender: TenderInput): void {
  till.change({ basket: withTender(till.shown.basket, tender), paying: undefined });
  goToPayment(till);
}

/** The next thing to press: finish when all is paid, else a way to pay the rest. */
export function goToPayment(till: Till): void {
  const record = part<HTMLButtonElement>("record");
  if (till.shown.basket.lines.length === 0)
    till.change({ signal: { kind: "info", words: "Scan a tag or type its number first." } });
  else if (!record.disabled) record.focus();
  else part("tender-keys").querySelector("button")?.focus();
}

function showError(words: string): void {
  show("tender-error", words !== "", words);
  const amount = part("tender-amount");
  if (words === "") amount.removeAttribute("aria-invalid");
  else amount.setAttribute("aria-invalid", "true");
}
