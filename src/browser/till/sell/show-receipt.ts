import type { ReceiptFact } from "../../../contract/till-fact.ts";
import { ask } from "./ask.ts";
import { anyLeft, type Named, notVoidable, returnedBefore } from "./coming-back.ts";
import { icon, key, make, part, show } from "./dom.ts";
import { askElsewhere, before } from "./find-receipt.ts";
import { sellerAt, store } from "./finish.ts";
import { paperElement, printReceipt } from "./paper.ts";
import { paperOf } from "./paper-rows.ts";
import { openReturn } from "./return-form.ts";
import { voidFact } from "./reversal-fact.ts";
import type { Till } from "./till.ts";

/** Opens a receipt of this till; the other tills may have taken pieces of it back. */
export async function openReceipt(till: Till, fact: ReceiptFact): Promise<void> {
  const { number: tillNumber } = till.scene.till;
  const name = till.words.receipt(fact.number);
  const answer = fact.kind === "sale" ? await askElsewhere(till, name) : undefined;
  const known = answer?.kind === "found" ? before(answer.receipt) : new Map();
  await showReceipt(till, { fact, tillNumber, before: known });
}

/** Shows one receipt as it was printed, with what can still be done about it. */
export async function showReceipt(
  till: Till,
  { fact, tillNumber, ...known }: Named,
): Promise<void> {
  const back = await till.parts.past.takenBack(fact.id);
  const named = { fact, tillNumber, before: returnedBefore(fact.id, back, known.before) };
  const box = part("receipt");
  const why = notVoidable(fact, named.before, till.scene.session?.id ?? "");
  box.replaceChildren(
    paperElement(paperOf(named, till.scene, till.words, false)),
    make("div", "row", ...deeds(till, named, why === undefined)),
    make("p", "muted", fact.kind === "sale" && why ? `It cannot be called off. ${why}` : ""),
  );
  show("receipt", true);
  box.querySelector("button")?.focus();
  box.scrollIntoView({ block: "start" });
}

export const closeReceipt = (): void => {
  show("receipt", false);
};

function deeds(till: Till, named: Named, voidable: boolean): HTMLElement[] {
  const { fact, before } = named;
  const keys = [key([icon("print"), "Print a copy"], () => printReceipt(till, [named], true))];
  if (anyLeft(fact, before)) keys.push(key("Take pieces back …", () => openReturn(till, named)));
  if (voidable) keys.push(key("Call it off …", () => askVoid(till, fact), { classes: "danger" }));
  return [...keys, key("Close", closeReceipt)];
}

function askVoid(till: Till, fact: ReceiptFact): void {
  const { money, receipt } = till.words;
  ask("ask-void", {
    title: `Call receipt ${receipt(fact.number)} off`,
    about: `All pieces go back to the floor and ${money(fact.total + fact.rounding)} goes back the way it came. The receipt keeps its number.`,
    take({ reason = "" }) {
      if (reason === "") return "Say why, in a few words.";
      const paper = {
        id: till.newId(),
        seller: sellerAt(till),
        now: new Date(),
        newId: till.newId,
      };
      void store(till, () => [voidFact(fact, reason, paper)]);
      return undefined;
    },
  });
}
