import type { ReceiptFact } from "../../../contract/till-fact.ts";
import { looksLikeCardNumber } from "../../../rules/card-number.ts";
import { ok, type Result } from "../../../rules/problem.ts";
import { readTag } from "../../../rules/tag-number.ts";
import type { Named } from "./coming-back.ts";
import { key, make, part, unbroken } from "./dom.ts";
import { sellerAt, store } from "./finish.ts";
import { noCardNumbers } from "./payment.ts";
import { choices, reasonField, waySelect } from "./return-fields.ts";
import {
  chosen,
  leftOf,
  type ReturnDraft,
  startReturn,
  withCount,
  withScanned,
} from "./return-state.ts";
import { type Return, returnFact, tendersBack, worthOf } from "./reversal-fact.ts";
import { play } from "./sounds.ts";
import type { Till } from "./till.ts";

let draft: ReturnDraft | undefined;

/** Which pieces come back, where they go, and whether money or other pieces go out for them. */
export function openReturn(till: Till, named: Named): void {
  draft = startReturn(named);
  drawReturn(till);
  part("receipt").querySelector("button")?.focus();
}

/** True when a scan was meant for the open return. */
export function scanForReturn(till: Till, text: string): boolean {
  if (!draft || till.shown.place !== "receipts" || part("receipt").hidden) return false;
  const tag = readTag(text, [till.scene.guild.tagLength === 10 ? 10 : 8]);
  const next = tag.ok ? withScanned(draft, tag.value) : undefined;
  play(next ? "added" : "unknown", till.device.volume);
  if (next) change(till, next);
  return true;
}

export const leaveReturn = (): void => {
  draft = undefined;
};

function change(till: Till, next: ReturnDraft): void {
  draft = next;
  drawReturn(till);
}

function drawReturn(till: Till): void {
  if (!draft) return;
  const now = draft;
  const held = document.activeElement?.id ?? "";
  const { money, receipt } = till.words;
  const worth = worthOf(chosen(now));
  const total = worth.ok ? 0 - worth.value.total : 0;
  const error = make("p", "field-error");
  error.id = "return-error";
  error.setAttribute("role", "alert");
  const back = tendersBack(now.way, 0 - total, till.scene).tenders[0]!.amount;
  const give = key(`Give back ${money(0 - back)}`, () => void giveBack(till), { classes: "" });
  const exchange = key("Exchange for other pieces", () => startExchange(till, total));
  give.disabled = exchange.disabled = total === 0;
  part("receipt").replaceChildren(
    make(
      "h3",
      "",
      ...unbroken(`Pieces of receipt ${receipt(now.sale.number, now.tillNumber)} that come back`),
    ),
    make("p", "hint", "Scan each piece, or choose how many of each come back."),
    make("ul", "sell-past", ...now.sale.lines.map((line) => lineElement(till, now, line))),
    choices(now, (next) => change(till, next)),
    reasonField(now, (reason) => {
      draft = { ...now, reason };
    }),
    waySelect(now, (next) => change(till, next)),
    error,
    make(
      "div",
      "row",
      give,
      exchange,
      key("Back", () => closeReturn()),
    ),
  );
  document.getElementById(held)?.focus();
}

function closeReturn(): void {
  leaveReturn();
  part("receipt").hidden = true;
}

function lineElement(
  till: Till,
  now: ReturnDraft,
  line: ReceiptFact["lines"][number],
): HTMLElement {
  const count = now.counts.get(line.id) ?? 0;
  const left = leftOf(now, line.id);
  const set = (wanted: number) => change(till, withCount(draft ?? now, line.id, wanted));
  const less = key("−", () => set(count - 1), {
    id: `back-less-${line.id}`,
    about: `one less, ${line.description}`,
  });
  const more = key("+", () => set(count + 1), {
    id: `back-more-${line.id}`,
    about: `one more, ${line.description}`,
  });
  less.disabled = count === 0;
  more.disabled = count >= left;
  const note = left === 0 ? "has come back already" : `${left} can come back`;
  return make(
    "li",
    "sell-line",
    make(
      "div",
      "sell-line-name",
      make("strong", "", line.description),
      make("span", "sell-note", note),
    ),
    make("div", "till-count", less, make("span", "", String(count)), more),
  );
}

function checked(): Result<Return> | undefined {
  if (!draft) return undefined;
  const wrong =
    draft.reason.trim() === ""
      ? "Say why it comes back, in a few words."
      : looksLikeCardNumber(draft.reason)
        ? noCardNumbers
        : "";
  part("return-error").textContent = wrong;
  return wrong ? undefined : ok(chosen({ ...draft, reason: draft.reason.trim() }));
}

async function giveBack(till: Till): Promise<void> {
  const wanted = checked();
  const worth = wanted?.ok ? worthOf(wanted.value) : undefined;
  if (!draft || !wanted?.ok || !worth?.ok) return;
  const money = tendersBack(draft.way, worth.value.total, till.scene);
  const paper = { id: till.newId(), seller: sellerAt(till), now: new Date(), newId: till.newId };
  const fact = returnFact(wanted.value, money, paper);
  if (!fact.ok) part("return-error").textContent = fact.problem.detail;
  else await store(till, () => [fact.value]);
}

/** The pieces stay with the basket at the desk until the new ones are paid for. */
function startExchange(till: Till, worth: number): void {
  const wanted = checked();
  if (!draft || !wanted?.ok) return;
  const { sale, tillNumber, before, way } = draft;
  const { returns, goesTo, reason } = wanted.value;
  const saleName = till.words.receipt(sale.number, tillNumber);
  const pieces = { returns, goesTo, reason, worth, backBy: way };
  const back = { sale, saleName, before, ...pieces };
  till.change({ place: "desk", basket: { ...till.shown.basket, back }, signal: undefined });
  closeReturn();
  part("scan").focus();
}
