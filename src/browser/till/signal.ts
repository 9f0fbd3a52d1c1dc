import { copyOf, fill, part } from "./settings.ts";

/** What a scan or a step led to. Each has a colour, an icon and a word of its own. */
export type SignalKind =
  | "added"
  | "here"
  | "sold"
  | "not-in"
  | "unknown"
  | "misread"
  | "off"
  | "trouble";

/** Shows and speaks one message; `action` adds a button to it, such as the one that undoes. */
export function signal(
  kind: SignalKind,
  text: string,
  action?: { label: string; run: () => void },
): void {
  const box = copyOf(`signal-${kind}`);
  fill(box, "text", text);
  if (action) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "quiet";
    button.id = "signal-action";
    button.textContent = action.label;
    button.addEventListener("click", action.run);
    box.append(button);
  }
  part("signal").replaceChildren(box);
}

export const quiet = (): void => part("signal").replaceChildren();

/** The basket is kept in this tab, so signing in brings it back and goes on where it stopped. */
export const signalSignedOut = (): void =>
  signal("trouble", "You have been signed out. Everything here is kept.", {
    label: "Sign in and go on",
    run: () => location.reload(),
  });
