import { v7 } from "uuid";
import { readTag } from "../rules/tag-number.ts";
import type { TenderInput, TenderKind } from "../rules/tender.ts";
import {
  type Basket,
  emptyBasket,
  figuresOf,
  notReady,
  refreshed,
  restOf,
  restored,
  toSend,
  without,
  withoutTender,
  withQuantity,
  withRefusals,
  withTender,
} from "./till/basket.ts";
import { listenForKeys } from "./till/keys.ts";
import { scan, waiting } from "./till/scan.ts";
import { sendUntilAnswered } from "./till/send.ts";
import { lookUp, type Refusal } from "./till/server.ts";
import { part, readSettings } from "./till/settings.ts";
import { showDone } from "./till/show-done.ts";
import { showLines } from "./till/show-lines.ts";
import { showPayment } from "./till/show-payment.ts";
import { quiet, signal, signalSignedOut } from "./till/signal.ts";
import { keepBasket, loadBasket } from "./till/storage.ts";
import { closeTender, openTender, submitTender } from "./till/tender-form.ts";

const settings = readSettings(part("till"));
let basket = loadBasket(settings.tillId);

const scanField = part<HTMLInputElement>("scan");
const total = () => figuresOf(basket, settings.taxRate).total;

/** Every change goes through here: it is kept first and shown then. */
function change(next: Basket): void {
  basket = next;
  keepBasket(settings.tillId, basket);
  showLines(basket, settings, { remove, setQuantity });
  showPayment(basket, settings, (index) => change(withoutTender(basket, index)));
  showDone(basket, settings);
  part<HTMLFieldSetElement>("busy").disabled = basket.phase === "sending";
}

const setQuantity = (tag: string, quantity: number) => change(withQuantity(basket, tag, quantity));

function remove(tag: string): void {
  const position = basket.lines.findIndex((line) => line.tag === tag);
  const line = basket.lines[position];
  if (!line) return;
  change(without(basket, tag));
  signal("off", `${line.shownTag} ${line.description} is off the receipt.`, {
    label: "Put it back",
    run: () => {
      change(restored(basket, line, position));
      quiet();
      scanField.focus();
    },
  });
  scanField.focus();
}

const deeds = { basket: () => basket, change };

part("scan-form").addEventListener("submit", (event) => {
  event.preventDefault();
  const text = scanField.value;
  scanField.value = "";
  if (text.trim() === "") goToPayment();
  else void scan(text, settings, deeds);
});

function goToPayment(): void {
  const record = part<HTMLButtonElement>("record");
  if (basket.lines.length === 0) signal("misread", "Scan a tag or type its number.");
  else if (!record.disabled) record.focus();
  else part("tender-keys").querySelector("button")?.focus();
}

function chooseTender(kind: TenderKind): void {
  const rest = restOf(basket, total());
  if (basket.phase === "open" && basket.lines.length > 0 && rest > 0)
    openTender(settings, kind, rest, tenderDeeds);
}

const tenderDeeds = {
  take(tender: TenderInput): void {
    change(withTender(basket, tender));
    closeTender();
    goToPayment();
  },
  scanned(text: string): boolean {
    if (!readTag(text, [settings.tagLength]).ok) return false;
    closeTender();
    void scan(text, settings, deeds);
    scanField.focus();
    return true;
  },
};

for (const key of part("tender-keys").querySelectorAll<HTMLButtonElement>("button"))
  key.addEventListener("click", () => chooseTender(key.value as TenderKind));
part("tender-form").addEventListener("submit", (event) => {
  event.preventDefault();
  submitTender(settings, tenderDeeds);
});
part("record").addEventListener("click", () => {
  if (waiting > 0) {
    signal("trouble", "A tag is still being looked up. Press once more in a moment.");
    return;
  }
  if (basket.phase !== "open" || notReady(basket, total())) return;
  change({ ...basket, phase: "sending", sent: toSend(basket, settings.tillId, total()) });
  void send();
});
part("next").addEventListener("click", nextCustomer);

async function send(): Promise<void> {
  if (!basket.sent) return;
  closeTender();
  quiet();
  const sent = await sendUntilAnswered(settings, basket.sent);
  if (sent.kind === "signed-out") signalSignedOut();
  else if (sent.kind === "refused") await refused(sent.refusal);
  else {
    change({ ...basket, phase: "done", recorded: sent.value });
    quiet();
    part("next").focus();
  }
}

/** Nothing was recorded: the basket opens again, with prices and floor as they are now. */
async function refused({ code, title, detail, errors }: Refusal): Promise<void> {
  // The id of a receipt that was recorded with other content is used up.
  const receiptId = code === "key-reused" ? v7() : basket.receiptId;
  change(withRefusals({ ...basket, receiptId, phase: "open", sent: undefined }, errors));
  signal(code === "already-sold" ? "sold" : "trouble", `${title}. ${detail}`);
  scanField.focus();
  for (const { tag } of basket.lines) {
    const answer = await lookUp(settings, tag);
    if (answer.kind === "done") change(refreshed(basket, tag, answer.value));
  }
}

function nextCustomer(): void {
  if (basket.phase !== "done") return;
  change(emptyBasket(v7()));
  quiet();
  scanField.focus();
}

listenForKeys({
  chooseTender,
  nextCustomer,
  isDone: () => basket.phase === "done",
  backToScan: () => {
    closeTender();
    scanField.focus();
  },
});

part("till").hidden = false;
change(basket);
if (basket.phase === "sending") void send();
else (basket.phase === "done" ? part("next") : scanField).focus();
