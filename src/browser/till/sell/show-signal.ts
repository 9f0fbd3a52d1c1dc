import { icon, key, make, part, unbroken } from "./dom.ts";
import { looks, type Signal } from "./signal.ts";
import type { Till } from "./till.ts";

let drawn: Signal | undefined;

/** Says what a scan or step led to; in an open dialog too, where the page behind is out of reach. */
export function showSignal({ shown: { signal } }: Till): void {
  if (signal === drawn) return;
  drawn = signal;
  const inDialog = document.querySelector("dialog[open] [data-signal]");
  if (inDialog) inDialog.textContent = signal ? `${looks[signal.kind].title}: ${signal.words}` : "";
  part("signal").replaceChildren(...(signal ? [signalElement(signal)] : []));
}

function signalElement({ kind, words, action }: Signal): HTMLElement {
  const { title, icon: sign, classes } = looks[kind];
  const text = make("div", "", make("strong", "", title), make("p", "", ...unbroken(words)));
  if (action) text.append(key(action.label, action.run, { id: "signal-action" }));
  return make("div", classes, icon(sign), text);
}
