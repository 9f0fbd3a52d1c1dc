import type { Basket, TillLine } from "./basket.ts";
import { copyOf, fill, part, type TillSettings } from "./settings.ts";

export interface LineDeeds {
  remove(tag: string): void;
  setQuantity(tag: string, quantity: number): void;
}

/** Draws the lines of the basket, the newest where the eye is: at the end, in view. */
export function showLines(basket: Basket, settings: TillSettings, deeds: LineDeeds): void {
  const list = part("lines");
  const held = document.activeElement?.id;
  list.replaceChildren(...basket.lines.map((line) => lineElement(line, settings, deeds)));
  part("no-lines").hidden = basket.lines.length > 0;
  if (held && document.activeElement === document.body) document.getElementById(held)?.focus();
}

function lineElement(line: TillLine, settings: TillSettings, deeds: LineDeeds): HTMLElement {
  const element = copyOf("line");
  fill(element, "tag", line.shownTag);
  fill(element, "description", line.description);
  fill(element, "amount", settings.money(line.price * line.quantity));
  fill(element, "each", line.onFloor > 1 ? `${settings.money(line.price)} each` : "");
  fill(element, "wrong", line.wrong ?? "");
  element.classList.toggle("wrong", line.wrong !== undefined);
  const remove = button(element, "remove", `remove-${line.tag}`, line.description);
  remove.addEventListener("click", () => deeds.remove(line.tag));
  showQuantity(element, line, deeds);
  return element;
}

function showQuantity(element: HTMLElement, line: TillLine, deeds: LineDeeds): void {
  const box = element.querySelector<HTMLElement>("[data-quantity]");
  if (!box) return;
  box.hidden = line.onFloor < 2;
  fill(box, "count", String(line.quantity));
  const less = button(box, "less", `less-${line.tag}`, line.description);
  const more = button(box, "more", `more-${line.tag}`, line.description);
  less.disabled = line.quantity <= 1;
  more.disabled = line.quantity >= line.onFloor;
  less.addEventListener("click", () => deeds.setQuantity(line.tag, line.quantity - 1));
  more.addEventListener("click", () => deeds.setQuantity(line.tag, line.quantity + 1));
}

function button(inside: HTMLElement, name: string, id: string, about: string): HTMLButtonElement {
  const found = inside.querySelector<HTMLButtonElement>(`[data-${name}]`);
  if (!found) throw new Error(`A line has no button called ${name}.`);
  found.id = id;
  fill(found, "about", about);
  return found;
}
