import type { MailState } from "../../rules/mail-state.ts";
import { momentText } from "../../rules/moment.ts";

export const stateWords: Record<MailState, { text: string; kind?: string; icon?: string }> = {
  unsent: { text: "Not sent yet" },
  "no-address": { text: "To print", icon: "print" },
  waiting: { text: "Waiting", kind: "wait", icon: "clock" },
  sent: { text: "Sent", kind: "good", icon: "check" },
  failed: { text: "Not sent", kind: "bad", icon: "cross" },
  returned: { text: "Came back", kind: "bad", icon: "warn" },
};

interface Message {
  state: MailState;
  tries: number;
  lastError: string;
  note: string;
  nextAt: Date | null;
  endedAt: Date | null;
}

/** What became of a message and when, for the row of its member. */
export function messageWords(
  { state, tries, lastError, note, nextAt, endedAt }: Message,
  { locale, timeZone }: { locale: string; timeZone: string },
): string {
  const at = (moment: Date | null) => (moment ? momentText(moment, locale, timeZone) : "");
  switch (state) {
    case "unsent":
      return "";
    case "no-address":
      return "The member has no e-mail address.";
    case "waiting":
      return lastError === ""
        ? ""
        : `${lastError}. Tried ${tries === 1 ? "once" : `${tries} times`}, the next time at ${at(nextAt)}.`;
    case "sent":
      return `The mail server took it on ${at(endedAt)}.`;
    case "failed":
      return `${lastError}. Given up on ${at(endedAt)}.`;
    case "returned":
      return `Sent on ${at(endedAt)}, and it came back: ${note}`;
  }
}
