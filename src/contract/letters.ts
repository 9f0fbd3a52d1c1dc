import * as z from "zod";
import { letterKinds, letterStates } from "../rules/letters/kinds.ts";
import { letterLanguages } from "../rules/letters/language.ts";
import { earliestReminder, mostReminders } from "../rules/letters/reminder-days.ts";
import { line } from "./text.ts";
import { versionNumber } from "./version.ts";

const wanted = z.boolean("Say whether these letters are wanted");

export const lettersShape = z.strictObject({
  letters: z.strictObject({
    "entry-deadline": wanted,
    "check-in-time": wanted,
    "first-sold": wanted,
    "statement-ready": wanted,
  }),
  /** Null for the guild's own. */
  language: z.enum(letterLanguages, "Choose a language from the list").nullable(),
});

export const ownLettersShown = lettersShape.extend({
  /** The language that letters come in now. */
  writtenIn: z.enum(letterLanguages),
  /** Whether this server sends letters at all. */
  sent: z.boolean(),
});

export const remindersShape = z.strictObject({
  days: z
    .array(z.int("Give whole days").min(1).max(earliestReminder))
    .max(mostReminders, `At most ${mostReminders} reminders`),
  version: versionNumber,
});

export const letterReturnShape = z.strictObject({
  note: line(200, "Say what came back, such as “mailbox full”"),
});

const count = z.int();

export const letterShown = z.object({
  id: z.uuid(),
  memberNumber: count,
  memberName: z.string(),
  kind: z.enum(letterKinds),
  state: z.enum(letterStates),
  tries: count,
  lastError: z.string(),
  note: z.string(),
  createdAt: z.string(),
  nextAt: z.string(),
  endedAt: z.string().nullable(),
});

export const letterCountShown = z.object({
  kind: z.enum(letterKinds),
  state: z.enum(letterStates),
  count,
});

export const phoneShown = z.object({
  memberNumber: count,
  memberName: z.string(),
  phone: z.string(),
  pieces: count,
  why: z.enum(["no-address", "failed", "returned"]),
});
