import { showTag } from "../../../rules/tag-number.ts";
import { type TillLine, without, withQuantity } from "./basket.ts";
import { icon, key, make, part, show } from "./dom.ts";
import { askPrice } from "./price-form.ts";
import type { Till } from "./till.ts";
import { undoFor } from "./undo.ts";

/** Draws the lines of the basket, the newest at the end and in view. */
export function showLines(till: Till): void {
  const { basket } = till.shown;
  const list = part("lines");
  const held = document.activeElement?.id;
  const grown = basket.lines.length > list.childElementCount;
  const computed = till.due().totals.lines;
  list.replaceChildren(
    ...basket.lines.map((line, index) => lineElement(till, line, computed[index]!.discount)),
  );
  show("no-lines", basket.lines.length === 0);
  if (grown) list.lastElementChild?.scrollIntoView({ block: "nearest" });
  if (held && document.activeElement === document.body) document.getElementById(held)?.focus();
}

function lineElement(till: Till, line: TillLine, discount: number): HTMLElement {
  const { money } = till.words;
  const name = make("div", "sell-line-name");
  if (line.tag) name.append(make("span", "tag-number", showTag(line.tag)), " ");
  name.append(make("strong", "", line.description));
  for (const note of notesOf(till, line, discount)) name.append(make("span", "sell-note", note));
  const amount = make("span", "till-amount", money(line.unitPrice * line.quantity - discount));
  const off = key([icon("cross")], () => takeOff(till, line), {
    classes: "quiet till-off",
    id: `off-${line.key}`,
    about: `Take off ${line.description}`,
  });
  const inside = line.most > 1 ? [name, quantityKeys(till, line)] : [name];
  if (line.kind === "item")
    inside.push(
      key("Price", () => askPrice(till, line), {
        id: `price-${line.key}`,
        about: `of ${line.description}`,
      }),
    );
  return make("li", "sell-line", ...inside, amount, off);
}

function notesOf(till: Till, line: TillLine, discount: number): string[] {
  const { money } = till.words;
  return [
    line.quantity > 1 ? `${money(line.unitPrice)} each` : "",
    line.piecesInSet > 1 ? `set of ${line.piecesInSet}` : "",
    line.kind === "untagged" ? "without its tag" : "",
    line.printedPrice === undefined
      ? ""
      : `${money(line.listPrice)} in the list: ${line.priceReason}`,
    discount === 0 ? "" : `${money(discount)} off for the last day`,
  ].filter(Boolean);
}

function quantityKeys(till: Till, line: TillLine): HTMLElement {
  const { key: lineKey, quantity, most, description } = line;
  const set = (wanted: number) =>
    till.change({
      basket: withQuantity(till.shown.basket, lineKey, wanted),
      undo: {
        ...{ what: "quantity", key: lineKey, quantity },
        words: `${wanted} of ${description}, before ${quantity}.`,
        until: Date.now() + undoFor,
      },
    });
  const less = key("−", () => set(quantity - 1), {
    id: `less-${lineKey}`,
    about: `one piece less, ${description}`,
  });
  const more = key("+", () => set(quantity + 1), {
    id: `more-${lineKey}`,
    about: `one piece more, ${description}`,
  });
  less.disabled = quantity <= 1;
  more.disabled = quantity >= most;
  return make("div", "till-count", less, make("span", "", String(quantity)), more);
}

function takeOff(till: Till, line: TillLine): void {
  const { basket } = till.shown;
  till.change({
    basket: without(basket, line.key),
    signal: undefined,
    undo: {
      ...{ what: "line", line, position: basket.lines.indexOf(line) },
      words: `${line.description} is off the receipt.`,
      until: Date.now() + undoFor,
    },
  });
  part("scan").focus();
}
