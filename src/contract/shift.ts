import * as z from "zod";
import { marks } from "../rules/shifts/shift-words.ts";
import { line, optionalLine } from "./text.ts";
import { versionNumber } from "./version.ts";

const time = (wanted: string) => z.string(wanted).regex(/^([01]\d|2[0-3]):[0-5]\d$/, wanted);

/** A member by the number on their tags, as the desk knows them. */
export const memberNumber = z
  .int("Give the member's number, such as 104")
  .min(1, "Give the member's number, such as 104")
  .max(9_999, "A member's number has at most four digits");

/** A shift as it is planned: day and times are those of the guild's clock. */
export const shiftShape = z.strictObject({
  member: memberNumber,
  day: z.iso.date("Give the day of the shift, such as 2026-11-27"),
  start: time("Give the start like 09:00"),
  end: time("Give the end like 12:30"),
  task: line(60, "Say what is to be done, such as Cashier"),
  standIn: optionalLine(80).default(""),
});

export type ShiftInput = z.output<typeof shiftShape>;

export const shiftChange = shiftShape.extend({ version: versionNumber });
export type ShiftChange = z.output<typeof shiftChange>;

/** `open` takes the tick off again. The minutes are those really worked. */
export const tickShape = z
  .strictObject({
    mark: z.enum([...marks, "open"], "Choose worked or missed"),
    minutes: z
      .int("Give the minutes as a whole number")
      .min(1, "Who worked has worked a minute at least")
      .max(1_440, "That is more than a day")
      .nullable()
      .default(null),
    version: versionNumber,
  })
  .refine(({ mark, minutes }) => (mark === "worked") === (minutes !== null), {
    path: ["minutes"],
    message: "Give the minutes of a shift that was worked, and of no other",
  });

export const shiftVersion = z.strictObject({ version: versionNumber });

/** Rows as a spreadsheet has them: member number, day, start, end, task and perhaps a stand-in. */
export const shiftListShape = z.strictObject({
  text: z
    .string("Paste the rows")
    .trim()
    .min(1, "Paste the rows")
    .max(100_000, "That is too much at once. Paste it in several parts"),
});

export const shiftShown = z.object({
  id: z.uuid(),
  saleId: z.uuid(),
  memberNumber: z.int(),
  memberName: z.string(),
  task: z.string(),
  standIn: z.string(),
  startsAt: z.string(),
  minutes: z.int(),
  mark: z.enum(marks).nullable(),
  minutesWorked: z.int().nullable(),
  markedBy: z.string(),
  markedAt: z.string().nullable(),
  version: z.int(),
});

export const shiftRow = z.object({
  /** The line of what was pasted. */
  line: z.int(),
  member: z.string(),
  day: z.string(),
  start: z.string(),
  end: z.string(),
  task: z.string(),
  standIn: z.string(),
  problems: z.array(z.string()),
});

export type ShiftRow = z.output<typeof shiftRow>;

export const shiftPreview = z.object({
  rows: z.array(shiftRow),
  good: z.int(),
  bad: z.int(),
});

export type ShiftPreview = z.output<typeof shiftPreview>;

export const ownShiftShown = z.object({
  id: z.uuid(),
  saleId: z.uuid(),
  saleName: z.string(),
  task: z.string(),
  standIn: z.string(),
  startsAt: z.string(),
  minutes: z.int(),
  mark: z.enum(marks).nullable(),
  minutesWorked: z.int().nullable(),
});

export const ownHoursShown = z.object({
  saleId: z.uuid(),
  saleName: z.string(),
  shifts: z.int(),
  minutesWorked: z.int(),
});
