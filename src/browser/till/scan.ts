import type { TillItemShown } from "../../contract/receipt-shown.ts";
import { readTag } from "../../rules/tag-number.ts";
import { type Basket, lineOf, withItem } from "./basket.ts";
import { isSignedOut } from "./send.ts";
import { type Answer, lookUp } from "./server.ts";
import type { TillSettings } from "./settings.ts";
import { quiet, type SignalKind, signal, signalSignedOut } from "./signal.ts";

export interface ScanDeeds {
  basket(): Basket;
  change(basket: Basket): void;
}

/** A scanner that reads one tag twice in a row means one piece. */
const doubleScan = 800;
let last = { tag: "", at: 0 };

/** How many tags are still being asked for: nothing is recorded before they are there. */
export let waiting = 0;

/** Reads a tag, says what came of it, and puts the piece into the basket when it can be sold. */
export async function scan(text: string, settings: TillSettings, deeds: ScanDeeds): Promise<void> {
  const read = readTag(text, [settings.tagLength]);
  if (!read.ok) {
    signal("misread", read.problem.detail);
    return;
  }
  const tag = read.value;
  const again = last.tag === tag && Date.now() - last.at < doubleScan;
  last = { tag, at: Date.now() };
  const there = lineOf(deeds.basket(), tag);
  if (there && (again || there.quantity >= there.onFloor)) {
    signal("here", `${there.shownTag} ${there.description} is in the basket.`);
    return;
  }
  if (again && waiting > 0) return;
  waiting += 1;
  quiet();
  const answer = await lookUp(settings, tag);
  waiting -= 1;
  tell(answer, settings, deeds);
}

const kindOf: Record<number, SignalKind> = { 404: "unknown", 400: "misread" };

function tell(answer: Answer<TillItemShown>, settings: TillSettings, deeds: ScanDeeds): void {
  if (answer.kind === "no-answer")
    signal("trouble", "The server did not answer. Scan the tag once more.");
  else if (answer.kind === "refused" && isSignedOut(answer.status)) signalSignedOut();
  else if (answer.kind === "refused")
    signal(kindOf[answer.status] ?? "trouble", answer.refusal.detail);
  else takeIn(answer.value, settings, deeds);
}

function takeIn(item: TillItemShown, settings: TillSettings, deeds: ScanDeeds): void {
  const name = `${item.shownTag} ${item.description}`;
  if (item.state === "sold") signal("sold", `${name}: ${soldWords(item, settings.locale)}`);
  else if (item.state !== "on-floor") signal("not-in", `${name}: ${offWords[item.state]}`);
  else {
    deeds.change(withItem(deeds.basket(), item));
    signal("added", `${name}, ${settings.money(item.price)}`);
  }
}

const offWords = {
  "not-checked-in": "ask the desk to check it in, then scan it again.",
  withdrawn: "its member has withdrawn it. Ask the desk.",
  "with-guild": "it belongs to the guild by now. Ask the desk.",
  lost: "it is noted as lost. Ask the desk.",
};

function soldWords({ sold }: TillItemShown, locale: string): string {
  if (!sold) return "it has been sold.";
  const time = new Date(sold.at).toLocaleTimeString(locale, { hour: "numeric", minute: "2-digit" });
  return `sold at till ${sold.till}, receipt ${sold.receipt}, ${time}, by ${sold.cashier}.`;
}
