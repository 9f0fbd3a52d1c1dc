import type { OutcomeKind } from "./outcome.ts";

/** What a scan or a step led to: a colour, a sign, words, and for scans a sound. */
export interface Signal {
  kind: OutcomeKind | "trouble" | "info";
  words: string;
  /** What can be done about it right here. */
  action?: { label: string; run(): void };
}

interface Look {
  title: string;
  icon: string;
  classes: string;
}

export const looks: Record<Signal["kind"], Look> = {
  added: { title: "Added", icon: "check", classes: "notice good" },
  here: { title: "Already here", icon: "basket", classes: "notice" },
  sold: { title: "Sold already", icon: "cross", classes: "notice bad" },
  "not-in": { title: "Not on the floor", icon: "clock", classes: "notice warn" },
  unknown: { title: "No such tag", icon: "search", classes: "notice till-unknown" },
  misread: { title: "Read it again", icon: "warn", classes: "notice till-misread" },
  trouble: { title: "Please look", icon: "warn", classes: "notice bad" },
  info: { title: "Good to know", icon: "info", classes: "notice" },
};
