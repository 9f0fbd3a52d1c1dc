import type { TenderKind } from "../../rules/tender.ts";
import { part } from "./settings.ts";

export interface KeyDeeds {
  chooseTender(kind: TenderKind): void;
  nextCustomer(): void;
  backToScan(): void;
  isDone(): boolean;
}

const tenderKeys: Record<string, TenderKind> = { c: "cash", q: "cheque", k: "card", o: "other" };

/**
 * The whole till by keyboard. Letters act only while the payment or the finished receipt has the
 * focus and nothing is being typed; digits anywhere else go to the tag field, so that a scanner
 * works wherever the focus stands.
 */
export function listenForKeys(deeds: KeyDeeds): void {
  part("pay").addEventListener("keydown", (event) => {
    const kind = tenderKeys[event.key.toLowerCase()];
    if (!kind || isTyping(event) || hasModifier(event)) return;
    event.preventDefault();
    deeds.chooseTender(kind);
  });
  part("done").addEventListener("keydown", (event) => {
    if (event.key.toLowerCase() !== "n" || hasModifier(event)) return;
    event.preventDefault();
    deeds.nextCustomer();
  });
  document.addEventListener("keydown", (event) => {
    if (hasModifier(event)) return;
    if (event.key === "Escape") deeds.backToScan();
    if (!/^\d$/.test(event.key) || isTyping(event)) return;
    if (deeds.isDone()) deeds.nextCustomer();
    // The key itself still goes on to the field that has the focus now.
    part("scan").focus();
  });
}

const hasModifier = (event: KeyboardEvent) => event.ctrlKey || event.altKey || event.metaKey;

const isTyping = ({ target, isComposing }: KeyboardEvent): boolean =>
  isComposing ||
  target instanceof HTMLInputElement ||
  target instanceof HTMLTextAreaElement ||
  target instanceof HTMLSelectElement;
