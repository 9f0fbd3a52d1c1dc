import {
  type CheckInTimeChange,
  type CheckInTimesInput,
  checkInTimeChange,
  checkInTimesShape,
} from "../../contract/check-in-time.ts";
import type { Result } from "../../rules/problem.ts";
import { plannedTime } from "../../rules/shifts/shift-time.ts";
import { readDay, readTime } from "../../rules/shifts/typed-time.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { readForm } from "../read-form.ts";
import { versionOf } from "../shifts/form.ts";

const spanOf = (fields: Fields, { locale }: { locale: string }) => ({
  day: readDay(textOf(fields, "day"), locale) ?? "",
  start: readTime(textOf(fields, "start")) ?? "",
  end: readTime(textOf(fields, "end")) ?? "",
  places: numberOf(textOf(fields, "places")),
});

const numberOf = (text: string): number | undefined =>
  /^\d{1,4}$/.test(text) ? Number(text) : undefined;

/** Reads the form of new times; without a length the span is one time. */
export function readTimes(fields: Fields, guild: { locale: string }): Result<CheckInTimesInput> {
  const each = textOf(fields, "each");
  // What is no number is given as it stands, so that the shape says what is wanted.
  const length = each === "" ? null : (numberOf(each) ?? each);
  return readForm(checkInTimesShape, { ...spanOf(fields, guild), each: length });
}

export const readTimeChange = (
  fields: Fields,
  guild: { locale: string },
): Result<CheckInTimeChange> =>
  readForm(checkInTimeChange, { ...spanOf(fields, guild), version: versionOf(fields) });

export function valuesOf(
  { startsAt, minutes, places }: { startsAt: Date; minutes: number; places: number },
  timeZone: string,
) {
  const { day, start, end } = plannedTime({ startsAt: startsAt.toISOString(), minutes }, timeZone);
  return { day, start, end, places: String(places) };
}
