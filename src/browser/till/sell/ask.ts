import { looksLikeCardNumber } from "../../../rules/card-number.ts";
import { part } from "./dom.ts";
import { noCardNumbers } from "./payment.ts";

type Values = Record<string, string>;

export interface Question {
  title?: string;
  about?: string;
  start?: Values;
  /** Takes what was typed; words mean that something has to change first. */
  take(values: Values): string | undefined;
}

/**
 * Opens one of the page's small forms. The browser keeps the focus inside and gives it back
 * afterwards; a card number is refused in every field.
 */
export function ask(id: string, { title, about, start = {}, take }: Question): HTMLDialogElement {
  const dialog = part<HTMLDialogElement>(id);
  const form = dialog.querySelector("form")!;
  form.reset();
  for (const [name, value] of Object.entries(start)) field(form, name).value = value;
  fill(dialog, "[data-title]", title);
  fill(dialog, "[data-about]", about);
  fill(dialog, "[data-signal]", "");
  showError(form, "");
  form.onsubmit = (event) => {
    event.preventDefault();
    const values = valuesOf(form);
    const wrong = Object.values(values).some(looksLikeCardNumber) ? noCardNumbers : take(values);
    if (wrong) showError(form, wrong);
    else dialog.close();
  };
  form.querySelector<HTMLButtonElement>("[data-close]")!.onclick = () => dialog.close();
  if (!dialog.open) dialog.showModal();
  const first = form.querySelector<HTMLInputElement | HTMLSelectElement>("input, select");
  first?.focus();
  // What is offered there gives way to what is typed.
  if (first instanceof HTMLInputElement) first.select();
  return dialog;
}

const field = (form: HTMLFormElement, name: string): HTMLInputElement =>
  form.elements.namedItem(name) as HTMLInputElement;

const valuesOf = (form: HTMLFormElement): Values =>
  Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value).trim()]));

function fill(dialog: HTMLElement, selector: string, text: string | undefined): void {
  const place = dialog.querySelector(selector);
  if (place && text !== undefined) place.textContent = text;
}

function showError(form: HTMLFormElement, words: string): void {
  const error = form.querySelector<HTMLElement>("[data-error]")!;
  error.textContent = words;
  error.hidden = words === "";
  for (const input of form.querySelectorAll("input"))
    if (words === "") input.removeAttribute("aria-invalid");
    else input.setAttribute("aria-invalid", "true");
}
