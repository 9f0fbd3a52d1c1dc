import { type ShiftInput, shiftShape } from "../../contract/shift.ts";
import type { ShiftRead } from "../../database/shifts.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { plannedTime } from "../../rules/shifts/shift-time.ts";
import type { Mark } from "../../rules/shifts/shift-words.ts";
import { readDay, readLength, readTime } from "../../rules/shifts/typed-time.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { readForm } from "../read-form.ts";

interface Guild {
  locale: string;
  timeZone: string;
}

/** Reads the form of a shift, with days and times as people write them. */
export const readShift = (fields: Fields, { locale }: Guild): Result<ShiftInput> =>
  readForm(shiftShape, {
    member: numberOf(textOf(fields, "member")),
    day: readDay(textOf(fields, "day"), locale) ?? "",
    start: readTime(textOf(fields, "start")) ?? "",
    end: readTime(textOf(fields, "end")) ?? "",
    task: textOf(fields, "task"),
    standIn: textOf(fields, "standIn"),
  });

const numberOf = (text: string): number | undefined =>
  /^\d{1,4}$/.test(text) ? Number(text) : undefined;

/** The version that a form carries; 0, which nothing ever has, when it carries none. */
export const versionOf = (fields: Fields): number => {
  const text = textOf(fields, "version");
  return /^\d{1,9}$/.test(text) ? Number(text) : 0;
};

/** What a button of the tick says, and how long the work took when it was worked. */
export function readTick(
  fields: Fields,
): Result<{ mark: Mark | "open"; minutes: number | null; version: number }> {
  const mark = textOf(fields, "mark");
  const version = versionOf(fields);
  if (mark === "missed" || mark === "open") return ok({ mark, minutes: null, version });
  if (mark !== "worked") return refuseField("mark", "Choose whether the shift was worked.");
  const minutes = readLength(textOf(fields, "worked"));
  if (minutes === undefined || minutes < 1 || minutes > 1_440)
    return refuseField("worked", "Give the hours and minutes really worked, such as 2:30.");
  return ok({ mark, minutes, version });
}

export function valuesOf(shift: ShiftRead, timeZone: string): Record<string, string> {
  const { startsAt, minutes } = shift;
  const { day, start, end } = plannedTime({ startsAt: startsAt.toISOString(), minutes }, timeZone);
  const { memberNumber, task, standIn } = shift;
  return { member: String(memberNumber), day, start, end, task, standIn };
}
