import type { ReceiptFact } from "../../../contract/till-fact.ts";
import { key, make, part, show } from "./dom.ts";
import { findReceipts } from "./find-receipt.ts";
import { closeReceipt, openReceipt, showReceipt } from "./show-receipt.ts";
import type { Till } from "./till.ts";

const mostShown = 50;
const kinds = { sale: "", return: "Return", void: "Call-off" };

/** The newest receipts of this till, and a way to any other. */
export async function showPast(till: Till): Promise<void> {
  listPast(till, await till.parts.past.newest(mostShown));
}

function listPast(till: Till, facts: readonly ReceiptFact[]): void {
  part("past").replaceChildren(...facts.map((fact) => pastElement(till, fact)));
  show("no-past", facts.length === 0);
}

function pastElement(till: Till, fact: ReceiptFact): HTMLElement {
  const { money, time, receipt } = till.words;
  const name = `${kinds[fact.kind]} ${receipt(fact.number)}`.trim();
  const first = fact.lines[0]!.description;
  const more = fact.lines.length > 1 ? ` and ${fact.lines.length - 1} more` : "";
  return make(
    "li",
    "sell-line",
    make(
      "div",
      "sell-line-name",
      make("strong", "", name),
      make("span", "sell-note", `${time(fact.madeAt)}, ${first}${more}`),
    ),
    make("span", "till-amount", money(fact.total)),
    key("Open", () => void openReceipt(till, fact), { about: name }),
  );
}

export async function find(till: Till, text: string): Promise<void> {
  const found = await findReceipts(till, text);
  const words = "words" in found ? found.words : "";
  show("find-words", words !== "", words);
  if ("elsewhere" in found) await showReceipt(till, found.elsewhere);
  if (!("facts" in found)) return;
  const only = found.facts.length === 1 ? found.facts[0] : undefined;
  if (only) await openReceipt(till, only);
  else listPast(till, found.facts);
}

export function wirePast(till: Till): void {
  part("find-form").addEventListener("submit", (event) => {
    event.preventDefault();
    const text = part<HTMLInputElement>("find").value;
    if (text.trim() !== "") void find(till, text);
    else void showPast(till);
  });
  part("to-receipts").addEventListener("click", () => {
    closeReceipt();
    show("find-words", false, "");
    part<HTMLInputElement>("find").value = "";
    void showPast(till);
  });
}
