/** An element of the page by its id; the template and the till have to agree on it. */
export function part<T extends HTMLElement = HTMLElement>(id: string): T {
  const found = document.getElementById(id);
  if (!found) throw new Error(`The page has no part called ${id}.`);
  return found as T;
}

/** A new element with classes, text and what stands in it. */
export function make<K extends keyof HTMLElementTagNameMap>(
  name: K,
  classes: string,
  ...inside: (Node | string)[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(name);
  if (classes) element.className = classes;
  element.append(...inside);
  return element;
}

/** The words with tag and receipt numbers that no line breaks in two: "3-0017" has to be read whole. */
export const unbroken = (words: string): (Node | string)[] =>
  words
    .split(/(\d+(?:-\d+)+)/)
    .map((piece, index) => (index % 2 === 1 ? make("span", "unbroken", piece) : piece));

/** A button with its deed; `about` is spoken after the words, to tell two alike ones apart. */
export function key(
  words: (Node | string)[] | string,
  act: () => void,
  { classes = "quiet", id = "", about = "" } = {},
): HTMLButtonElement {
  const inside = typeof words === "string" ? [words] : words;
  const spoken = about ? [make("span", "hidden-words", ` ${about}`)] : [];
  const button = make("button", classes, ...inside, ...spoken);
  button.type = "button";
  if (id) button.id = id;
  button.addEventListener("click", act);
  return button;
}

/** One of the house's icons; words always stand beside it. */
export function icon(name: string): Node {
  const copy = part<HTMLTemplateElement>("icon").content.cloneNode(true) as DocumentFragment;
  const use = copy.querySelector("use");
  use?.setAttribute("href", `${use.getAttribute("href")}#${name}`);
  return copy;
}

export function show(id: string, shown: boolean, text?: string): HTMLElement {
  const element = part(id);
  element.hidden = !shown;
  if (text !== undefined && element.textContent !== text) element.textContent = text;
  return element;
}

/** Whether the person is typing into something, so that a letter is a letter. */
export const isField = (target: EventTarget | null): target is HTMLInputElement =>
  (target instanceof HTMLInputElement && target.type !== "range") ||
  target instanceof HTMLTextAreaElement ||
  target instanceof HTMLSelectElement;
