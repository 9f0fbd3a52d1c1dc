import { formatMoney } from "../../rules/currency.ts";
import type { TagLength } from "../../rules/tag-number.ts";

/** What the page tells the till about itself. */
export interface TillSettings {
  saleId: string;
  tillId: string;
  tagLength: TagLength;
  taxRate: number;
  currency: string;
  locale: string;
  formToken: string;
  money(amount: number): string;
}

export function readSettings(root: HTMLElement): TillSettings {
  const text = (name: string): string => {
    const value = root.dataset[name];
    if (value === undefined) throw new Error(`The page does not say its ${name}.`);
    return value;
  };
  const currency = text("currency");
  const locale = text("locale");
  return {
    saleId: text("saleId"),
    tillId: text("tillId"),
    tagLength: text("tagLength") === "10" ? 10 : 8,
    taxRate: Number(text("taxRate")),
    currency,
    locale,
    formToken: text("formToken"),
    money: (amount) => formatMoney(amount, currency, locale),
  };
}

/** An element of the page by its id; the template and the till have to agree on it. */
export function part<T extends HTMLElement = HTMLElement>(id: string): T {
  const found = document.getElementById(id);
  if (!found) throw new Error(`The page has no part called ${id}.`);
  return found as T;
}

/** A fresh copy of a template of the page. */
export function copyOf(id: string): HTMLElement {
  const copy = part<HTMLTemplateElement>(id).content.cloneNode(true) as DocumentFragment;
  const element = copy.firstElementChild;
  if (!(element instanceof HTMLElement)) throw new Error(`The template ${id} is empty.`);
  return element;
}

/** Writes text into the marked place of a copied template. */
export function fill(element: HTMLElement, name: string, text: string): void {
  const place = element.querySelector(`[data-${name}]`);
  if (place) place.textContent = text;
}
