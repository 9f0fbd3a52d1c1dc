import { clockOffWords, isClockOff } from "../../../rules/clock.ts";
import { icon, part, show } from "./dom.ts";
import type { Till } from "./till.ts";

/** What is always on screen: till, cashier, line, age of the prices, and what is unsent. */
export function showBar(till: Till): void {
  const { parts, scene, words } = till;
  const { online, unsent, trouble, shutOut = false, clockAhead = 0 } = parts.state;
  show("practice", parts.practice);
  document.body.classList.toggle("practising", parts.practice);
  show("bar-till", true, `Till ${scene.till.number} ${scene.till.name}`);
  show("bar-cashier", true, parts.seat.cashier.name);
  const well = online && !trouble;
  state("bar-line", well ? "check" : "warn", lineWords(online, trouble), well);
  const at = parts.goods.at();
  const age = at ? `Prices from ${words.time(at)}` : "No list of prices yet";
  state("bar-age", "clock", age, at !== undefined);
  state("bar-clock", "clock", clockWords(clockAhead), false);
  show("bar-clock", isClockOff(clockAhead));
  state("bar-unsent", unsent === 0 ? "check" : "coins", unsentWords(unsent), unsent === 0);
  show("enrol-again", shutOut);
  show("save-unsent", unsent > 0);
  for (const place of ["desk", "receipts", "set-up"] as const) {
    const here = till.shown.place === place || (place === "desk" && till.shown.place === "done");
    part(`to-${place}`).setAttribute("aria-pressed", String(here));
  }
}

function lineWords(online: boolean, trouble: string | undefined): string {
  if (trouble) return trouble;
  return online ? "On line" : "Off line: go on selling, all is kept here";
}

/** A wrong clock stops nobody: every sale counts, and the times on the receipts are put right. */
const clockWords = (ahead: number): string =>
  isClockOff(ahead)
    ? `This device's clock is ${clockOffWords(ahead)}. Go on selling, and set it when you can`
    : "";

const unsentWords = (unsent: number): string =>
  unsent === 0 ? "All is sent" : unsent === 1 ? "1 receipt unsent" : `${unsent} receipts unsent`;

/** Redraws only what changed, so that a screen reader does not say the same again. */
function state(id: string, sign: string, words: string, good: boolean): void {
  const element = part(id);
  element.classList.toggle("good", good);
  if (element.textContent === words) return;
  element.replaceChildren(icon(sign), document.createTextNode(words));
}

/** The keys of the bar: lock, the three places, and the file of last resort. */
export function wireBar(till: Till): void {
  part("leave").addEventListener("click", () => till.parts.seat.leave());
  for (const place of ["desk", "receipts", "set-up"] as const)
    part(`to-${place}`).addEventListener("click", () => {
      till.change({ place, signal: undefined, paying: undefined });
      (place === "desk" ? part("scan") : part(`${place}-title`)).focus();
    });
  part("save-unsent").addEventListener("click", () => void saveUnsent(till));
}

async function saveUnsent(till: Till): Promise<void> {
  const { name, text } = await till.parts.outbox.toFile();
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  till.change({
    signal: {
      kind: "info",
      words: `Saved as ${name}. The receipts also stay on this till and go on being sent.`,
    },
  });
}
