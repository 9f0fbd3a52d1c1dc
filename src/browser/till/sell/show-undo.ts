import { emptyBasket, isUntouched } from "./basket.ts";
import { part, show } from "./dom.ts";
import type { Till } from "./till.ts";
import { canUndo, undoFor, undone } from "./undo.ts";

let ends: ReturnType<typeof setTimeout> | undefined;

/** Ten seconds to take a step back, instead of asking "are you sure" before it. */
export function showUndo(till: Till): void {
  const { undo } = till.shown;
  const open = canUndo(undo, Date.now());
  show("undo", open);
  if (!open) return;
  show("undo-words", true, undo.words);
  clearTimeout(ends);
  ends = setTimeout(() => till.change({ undo: undefined }), undo.until - Date.now());
}

export function takeBack(till: Till): void {
  const { undo, basket } = till.shown;
  if (!canUndo(undo, Date.now())) return;
  till.change({ basket: undone(basket, undo), undo: undefined, signal: undefined });
  part("scan").focus();
}

export function wireUndo(till: Till): void {
  part("undo-key").addEventListener("click", () => takeBack(till));
  part("clear").addEventListener("click", () => {
    const { basket } = till.shown;
    if (isUntouched(basket)) return;
    till.change({
      // The id stays: nothing was recorded under it.
      basket: emptyBasket(basket.id, new Date()),
      ...{ signal: undefined, paying: undefined },
      undo: {
        what: "basket",
        basket,
        words: "The basket is cleared.",
        until: Date.now() + undoFor,
      },
    });
    part("scan").focus();
  });
}
