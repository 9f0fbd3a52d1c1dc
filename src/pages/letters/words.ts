import type { LetterKind, LetterState } from "../../rules/letters/kinds.ts";

/** What each kind is called, and when it comes. */
export const kindWords: Record<LetterKind, { name: string; when: string }> = {
  "entry-deadline": {
    name: "Reminders before entries end",
    when: "As many days before as the chair has set, with how many pieces you have entered.",
  },
  "check-in-time": {
    name: "The day before your check-in time",
    when: "Only when you have picked a time to bring your pieces.",
  },
  "first-sold": {
    name: "Your first piece sold",
    when: "Once for each sale, soon after the till has recorded it.",
  },
  "statement-ready": {
    name: "Your statement is ready",
    when: "The morning after the treasurer has settled, unless the statement itself was mailed.",
  },
};

export const letterStateWords: Record<LetterState, { text: string; kind?: string; icon?: string }> =
  {
    waiting: { text: "Waiting", kind: "wait", icon: "clock" },
    sent: { text: "Sent", kind: "good", icon: "check" },
    failed: { text: "Not sent", kind: "bad", icon: "cross" },
    skipped: { text: "Left out" },
    returned: { text: "Came back", kind: "bad", icon: "warn" },
  };
