import type { PrintJobRead } from "../../database/print-jobs.ts";

const states = {
  waiting: { text: "Waiting", kind: "wait", icon: "clock" },
  running: { text: "Being made", kind: "wait", icon: "clock" },
  ready: { text: "Ready", kind: "good", icon: "check" },
  cancelled: { text: "Stopped", kind: "plain", icon: "closed" },
  failed: { text: "Not printed", kind: "bad", icon: "warn" },
} as const satisfies Record<PrintJobRead["state"], { text: string; kind: string; icon: string }>;

/** How far a print has come, as a word, an icon and a colour. */
export const stateOf = (state: PrintJobRead["state"]) => states[state];
