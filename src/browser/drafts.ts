import { carryWith } from "./drafts/carry.ts";
import { keepForm } from "./drafts/entry-form.ts";
import { sendLeftBehind } from "./drafts/left-behind.ts";
import { openShelf } from "./drafts/shelf.ts";

const token = () => document.querySelector<HTMLInputElement>('input[name="_csrf"]')?.value ?? "";
const find = (what: string) => document.querySelector<HTMLElement>(`[data-${what}]`);

const shelf = openShelf();
const carry = carryWith(token);

const form = find("draft-owner");
const list = find("drafts-of");
const left = find("drafts-left");

// Whoever signed out leaves nothing on a device that others may use.
if (left) await shelf.dropAll(left.dataset.draftsLeft ?? "");
if (form instanceof HTMLFormElement) await keepForm(form, shelf, carry);
if (list) {
  const owner = list.dataset.draftsOf ?? "";
  const newId = () => crypto.randomUUID();
  const news = find("drafts-news");
  if ((await sendLeftBehind({ owner, shelf, carry, newId })) && news) news.hidden = false;
}
