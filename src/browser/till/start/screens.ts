import { part, show } from "../sell/dom.ts";

/** What a till shows while it is not selling; `selling` is the screen itself. */
const screens = ["starting", "enrol", "seat", "closed", "elsewhere", "stopped", "selling"] as const;
export type Screen = (typeof screens)[number];

/** Shows one screen and hides the others; the place to type or press next gets the focus. */
export function showScreen(screen: Screen): void {
  for (const id of screens) show(id, id === screen);
  const first = part(screen).querySelector<HTMLElement>("[data-first]");
  first?.focus();
}

/** Says why this page cannot be a till, and what to do. */
export function showStopped(words: string): void {
  part("stopped-words").textContent = words;
  showScreen("stopped");
}
