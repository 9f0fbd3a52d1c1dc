import type { TenderKind } from "../../../rules/tender.ts";
import { isField, part } from "./dom.ts";
import { holdBasket } from "./hold.ts";
import { askMail } from "./mail-form.ts";
import { nextCustomer, printDone } from "./show-done.ts";
import { takeBack } from "./show-undo.ts";
import { chooseTender, closeTender } from "./tender-form.ts";
import type { Till } from "./till.ts";
import { askUntagged } from "./untagged-form.ts";

const ways: Record<string, TenderKind> = { c: "cash", q: "cheque", k: "card", o: "other" };

/**
 * The whole till by keyboard. Single letters act only while nothing is typed and no dialog is
 * open, and wait a moment: a scanner that reads a strange code must press nothing.
 */
export function listenForKeys(till: Till): void {
  let waiting: ReturnType<typeof setTimeout> | undefined;
  document.addEventListener("keydown", (event) => {
    const busy = document.querySelector("dialog[open]") !== null || waiting !== undefined;
    clearTimeout(waiting);
    waiting = undefined;
    if (event.ctrlKey || event.altKey || event.metaKey || event.repeat) return;
    if (event.key === "Escape") backToScan(till);
    const scan = part<HTMLInputElement>("scan");
    // A tag number has digits only, so a letter in the empty field is one of the keys.
    const inEmptyScan = event.target === scan && scan.value === "";
    if (busy || (isField(event.target) && !inEmptyScan)) return;
    if (/^\d$/.test(event.key) && till.shown.place === "desk") scan.focus();
    else if (/^[a-z]$/i.test(event.key))
      waiting = setTimeout(() => {
        waiting = undefined;
        if (inEmptyScan) scan.value = "";
        press(till, event.key.toLowerCase());
      }, till.device.scanner.gap);
  });
}

function press(till: Till, letter: string): void {
  const { place } = till.shown;
  if (place === "done" && letter === "p") printDone(till);
  else if (place === "done" && letter === "e") askMail(till);
  else if (place === "done" && letter === "n") nextCustomer(till);
  if (place !== "desk") return;
  const way = ways[letter];
  if (way) chooseTender(till, way);
  else if (letter === "u") takeBack(till);
  else if (letter === "h") holdBasket(till);
  else if (letter === "w") askUntagged(till);
  else if (letter === "b") part("goods").querySelector("button")?.focus();
}

function backToScan(till: Till): void {
  if (document.querySelector("dialog[open]") || till.shown.place !== "desk") return;
  closeTender(till);
  part("scan").focus();
}
