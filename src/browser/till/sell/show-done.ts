import { changeIn } from "../../../rules/change.ts";
import { denominationsOf } from "../../../rules/denominations.ts";
import { tenderWords } from "../../../rules/tender.ts";
import { make, part, show } from "./dom.ts";
import { handedBack } from "./finish.ts";
import { showMail, wireMail } from "./mail-form.ts";
import { printReceipt } from "./paper.ts";
import type { Till } from "./till.ts";

const titles = { sale: "Receipt", return: "Return", void: "Call-off" };

/** The finished receipt: what to hand over stands largest. */
export function showDone(till: Till): void {
  const { done } = till.shown;
  const last = done.at(-1);
  if (!last || till.shown.place !== "done") return;
  const { money, receipt } = till.words;
  const names = done.map(({ kind, number }) => `${titles[kind]} ${receipt(number)}`);
  show("done-title", true, `${names.join(" and ")} ${done.length > 1 ? "are" : "is"} recorded`);
  const cash = handedBack(done);
  const given = done.reduce((sum, fact) => sum + fact.cashGiven, 0);
  const byCash = done.some(({ tenders }) => tenders.some(({ kind }) => kind === "cash"));
  show("done-change", byCash);
  show("done-change-label", true, last.kind === "sale" ? "Change" : "Give back in cash");
  show("done-change-amount", true, cash === 0 ? "none" : money(cash));
  show("done-given", given > 0, `out of ${money(given)}`);
  showPieces(till, cash);
  const other = done.flatMap(({ tenders }) =>
    tenders.filter(({ kind }) => kind !== "cash" && kind !== "exchange"),
  );
  const ways = other.map(({ kind, amount }) => {
    const words = kind === "exchange" ? "" : tenderWords[kind];
    return `${words} ${money(Math.abs(amount))} ${amount < 0 ? "to give back" : "taken"}`;
  });
  show("done-paid", true, [`Total ${money(last.total)}`, ...ways].join(" · "));
  show("done-kept", true, keptWords(till));
  showMail(till);
}

function keptWords({ parts }: Till): string {
  if (parts.practice) return "Practice: nothing was sold.";
  return parts.state.unsent === 0
    ? "Stored on this till and sent."
    : "Stored on this till. It is sent as soon as there is a line.";
}

/** "2 × $20.00 note": how to count the change into the buyer's hand. */
function showPieces(till: Till, cash: number): void {
  const { currency } = till.scene.guild;
  const kinds = new Map(denominationsOf(currency).map(({ value, kind }) => [value, kind]));
  const pieces = cash > 0 ? changeIn(cash, currency).pieces : [];
  part("done-pieces").replaceChildren(
    ...pieces.map(({ value, count }) =>
      make(
        "li",
        kinds.get(value) ?? "",
        make("strong", "", `${count} ×`),
        ` ${till.words.money(value)}`,
      ),
    ),
  );
}

export function nextCustomer(till: Till): void {
  if (till.shown.place !== "done") return;
  till.change({ place: "desk", done: [], signal: undefined });
  part("scan").focus();
}

export function wireDone(till: Till): void {
  part("next").addEventListener("click", () => nextCustomer(till));
  wireMail(till);
  part("done-print").addEventListener("click", () => printDone(till));
}

export function printDone(till: Till): void {
  const { number: tillNumber } = till.scene.till;
  const receipts = till.shown.done.map((fact) => ({ fact, tillNumber }));
  printReceipt(till, receipts, false);
}
