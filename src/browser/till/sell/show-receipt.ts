import type { ReceiptFact } from "../../../contract/till-fact.ts";
import { ask } from "./ask.ts";
import { anyLeft, notVoidable, type ReturnedBefore, returnedBefore } from "./coming-back.ts";
import { icon, key, make, part, show } from "./dom.ts";
import { sellerAt, store } from "./finish.ts";
import { paperElement, printReceipt } from "./paper.ts";
import { paperOf } from "./paper-rows.ts";
import { openReturn } from "./return-form.ts";
import { voidFact } from "./reversal-fact.ts";
import type { Till } from "./till.ts";

/** Shows one receipt as it was printed, with what can still be done about it. */
export async function openReceipt(till: Till, fact: ReceiptFact): Promise<void> {
  const before = returnedBefore(fact.id, await till.parts.past.takenBack(fact.id));
  const box = part("receipt");
  const why = notVoidable(fact, before, till.scene.session?.id ?? "");
  box.replaceChildren(
    paperElement(paperOf(fact, till.scene, till.words, false)),
    make("div", "row", ...deeds(till, fact, before, why === undefined)),
    make("p", "muted", fact.kind === "sale" && why ? `It cannot be voided. ${why}` : ""),
  );
  show("receipt", true);
  box.querySelector("button")?.focus();
  box.scrollIntoView({ block: "start" });
}

export const closeReceipt = (): void => {
  show("receipt", false);
};

function deeds(
  till: Till,
  fact: ReceiptFact,
  before: ReturnedBefore,
  voidable: boolean,
): HTMLElement[] {
  const keys = [key([icon("print"), "Print a copy"], () => printReceipt(till, [fact], true))];
  if (anyLeft(fact, before))
    keys.push(key("Take pieces back …", () => openReturn(till, fact, before)));
  if (voidable) keys.push(key("Void it …", () => askVoid(till, fact), { classes: "danger" }));
  return [...keys, key("Close", closeReceipt)];
}

function askVoid(till: Till, fact: ReceiptFact): void {
  const { money, receipt } = till.words;
  ask("ask-void", {
    title: `Void receipt ${receipt(fact.number)}`,
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
