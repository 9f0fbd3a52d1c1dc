import { type Basket, lineOf, type TillLine, withQuantity } from "./basket.ts";

/** How long a step can be taken back: long enough to notice, short enough to be forgotten. */
export const undoFor = 10_000;

/** A step that can be taken back, and the words that say what it was. */
export type Undo = { words: string; until: number } & (
  | { what: "line"; line: TillLine; position: number }
  | { what: "quantity"; key: string; quantity: number }
  | { what: "basket"; basket: Basket }
);

/**
 * Takes a step back without losing what was scanned since: a line returns to its place, a cleared
 * basket comes before the lines that are there now.
 */
export function undone(basket: Basket, undo: Undo): Basket {
  if (undo.what === "quantity") return withQuantity(basket, undo.key, undo.quantity);
  if (undo.what === "line") {
    if (lineOf(basket, undo.line.key)) return basket;
    return { ...basket, lines: basket.lines.toSpliced(undo.position, 0, undo.line) };
  }
  const before = undo.basket;
  const since = basket.lines.filter(({ key }) => !lineOf(before, key));
  return { ...before, lines: [...before.lines, ...since] };
}

export const canUndo = (undo: Undo | undefined, now: number): undo is Undo =>
  undo !== undefined && now < undo.until;
