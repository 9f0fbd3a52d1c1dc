import { v7 } from "uuid";
import { ask } from "./ask.ts";
import { emptyBasket, isUntouched } from "./basket.ts";
import { key, make, part, show } from "./dom.ts";
import type { Till } from "./till.ts";

/** Puts the basket aside for a buyer who went to fetch something. */
export function holdBasket(till: Till): void {
  const { basket, storing } = till.shown;
  if (storing || isUntouched(basket)) return;
  const start = { name: basket.lines[0]?.description.slice(0, 40) ?? "" };
  ask("ask-hold", {
    start,
    take({ name = "" }) {
      void hold(till, name || "Basket");
      return undefined;
    },
  });
}

async function hold(till: Till, name: string): Promise<void> {
  await till.parts.baskets.hold(till.shown.basket, name, till.due().totals.total);
  till.change({
    basket: emptyBasket(v7(), new Date()),
    ...{ paying: undefined, undo: undefined },
    signal: { kind: "info", words: `“${name}” is on hold. Take the next customer.` },
  });
  await showHeld(till);
  part("scan").focus();
}

/** The key that opens the list stands there only while something is on hold. */
export async function showHeld(till: Till): Promise<void> {
  const held = await till.parts.baskets.held();
  show("held", held.length > 0, `On hold: ${held.length}`);
}

export function wireHold(till: Till): void {
  part("hold").addEventListener("click", () => holdBasket(till));
  part("held").addEventListener("click", () => void openHeld(till));
}

async function openHeld(till: Till): Promise<void> {
  const held = await till.parts.baskets.held();
  part("held-rows").replaceChildren(
    ...held.map(({ id, name, heldAt, total, basket }) => {
      const words = `${till.words.time(heldAt)}, ${basket.lines.length} lines`;
      const about = make(
        "div",
        "sell-line-name",
        make("strong", "", name),
        make("span", "sell-note", words),
      );
      const back = key("Go on", () => void resume(till, id), { about: `with ${name}` });
      return make(
        "li",
        "sell-line",
        about,
        make("span", "till-amount", till.words.money(total)),
        back,
      );
    }),
  );
  part<HTMLDialogElement>("held-list").showModal();
}

/** Whoever stands at the counter is put on hold in exchange, so that no basket is ever lost. */
async function resume(till: Till, id: string): Promise<void> {
  part<HTMLDialogElement>("held-list").close();
  const { basket } = till.shown;
  if (!isUntouched(basket))
    await till.parts.baskets.hold(basket, "Put aside for another", till.due().totals.total);
  const resumed = await till.parts.baskets.resume(id);
  if (resumed) till.change({ basket: resumed, signal: undefined, undo: undefined });
  await showHeld(till);
  part("scan").focus();
}
