import { looksLikeCardNumber } from "../../rules/card-number.ts";
import { amountText, digitsOf, parseMoney } from "../../rules/currency.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import type { TenderInput, TenderKind } from "../../rules/tender.ts";
import { likelyCash } from "./notes.ts";
import { part, type TillSettings } from "./settings.ts";

const labels: Record<TenderKind, { amount: string; reference: string }> = {
  cash: { amount: "Cash given", reference: "" },
  cheque: { amount: "Amount of the cheque", reference: "Cheque number" },
  card: { amount: "Amount on the card terminal", reference: "The terminal's reference" },
  other: { amount: "Amount", reference: "What it is" },
};

export interface TenderDeeds {
  take(tender: TenderInput): void;
  /** A tag was scanned while the amount was being typed. */
  scanned(text: string): boolean;
}

let open: { kind: TenderKind; rest: number } | undefined;

/** Opens the form for one way of paying, with what is left to pay where that is the usual amount. */
export function openTender(
  settings: TillSettings,
  kind: TenderKind,
  rest: number,
  deeds: TenderDeeds,
) {
  open = { kind, rest };
  const amount = part<HTMLInputElement>("tender-amount");
  part("tender-amount-label").textContent = labels[kind].amount;
  part("tender-reference-label").textContent = labels[kind].reference;
  part("tender-reference-field").hidden = kind === "cash";
  part<HTMLInputElement>("tender-reference").value = "";
  amount.value = kind === "cash" ? "" : amountText(rest, settings.currency);
  showError("");
  showNotes(settings, kind === "cash" ? rest : 0, deeds);
  part("tender-form").hidden = false;
  amount.focus();
  amount.select();
}

export function closeTender(): void {
  open = undefined;
  part("tender-form").hidden = true;
}

/** Takes what was typed, or says beside the field what is wrong with it. */
export function submitTender(settings: TillSettings, deeds: TenderDeeds): void {
  const typed = part<HTMLInputElement>("tender-amount");
  if (!open) return;
  if (deeds.scanned(typed.value)) typed.value = "";
  else {
    const tender = readTender(settings, open.kind, open.rest, typed.value);
    if (tender.ok) deeds.take(tender.value);
    else showError(tender.problem.detail);
  }
}

function readTender(
  settings: TillSettings,
  kind: TenderKind,
  rest: number,
  typed: string,
): Result<TenderInput> {
  const amount = parseMoney(typed, settings.currency);
  if (!amount.ok) return amount;
  if (amount.value === 0) return refuseField("amount", "Type an amount above zero.");
  if (kind !== "cash" && amount.value > rest)
    return refuseField("amount", `Only ${settings.money(rest)} is left to pay.`);
  const reference = part<HTMLInputElement>("tender-reference").value.trim();
  if (looksLikeCardNumber(reference))
    return refuseField(
      "reference",
      "That looks like a card number, which must not be typed here. Take the reference that the terminal printed.",
    );
  return ok({ kind, amount: amount.value, ...(reference ? { reference } : {}) });
}

function showNotes(settings: TillSettings, rest: number, deeds: TenderDeeds): void {
  const digits = digitsOf(settings.currency);
  part("notes").replaceChildren(
    ...likelyCash(rest, digits).map((amount) => {
      const button = document.createElement("button");
      button.type = "button";
      button.className = "quiet";
      button.textContent = settings.money(amount);
      button.addEventListener("click", () => deeds.take({ kind: "cash", amount }));
      return button;
    }),
  );
}

function showError(message: string): void {
  const error = part("tender-error");
  error.hidden = message === "";
  error.textContent = message;
  const amount = part("tender-amount");
  if (message === "") amount.removeAttribute("aria-invalid");
  else amount.setAttribute("aria-invalid", "true");
}
