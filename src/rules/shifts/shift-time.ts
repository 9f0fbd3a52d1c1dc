import { ok, type Result, refuseField } from "../problem.ts";
import { instantOf, localTimeOf } from "../zoned-time.ts";

/** A shift as people plan it: a day and two times on the guild's clock, "2026-11-27" and "22:00". */
export interface PlannedTime {
  day: string;
  start: string;
  end: string;
}

/** The same as it is kept: an instant in UTC, and how many minutes really pass. */
export interface ShiftTime {
  startsAt: string;
  minutes: number;
}

/** Longer is more likely "9 to 8" for "8 to 9" than a shift (common practice, no source). */
export const longestShift = 16 * 60;

const dayLength = 86_400_000;

/**
 * Puts a planned shift on the clock of a zone. An end that is not after the start is the next
 * morning's, so a shift from 22:00 to 01:00 is three hours. What counts is the time that passes: in
 * the night in which the clock is set back, 22:00 to 03:00 is six hours of work.
 */
export function shiftTime({ day, start, end }: PlannedTime, zone: string): Result<ShiftTime> {
  if (start === end) return refuseField("end", "The shift ends when it starts. Check both times.");
  const last = end > start ? day : dayAfter(day);
  const from = instantOf(`${day}T${start}`, zone);
  const until = instantOf(`${last}T${end}`, zone);
  if (!from) return refuseField("start", "Give the start like 09:00, on a day of the calendar.");
  if (!until) return refuseField("end", "Give the end like 12:30.");
  const minutes = (Date.parse(until) - Date.parse(from)) / 60_000;
  if (minutes < 1) return refuseField("end", "The clock is changed just then. Give another end.");
  if (minutes > longestShift)
    return refuseField("end", "That is longer than 16 hours. Check the start and the end.");
  return ok({ startsAt: from, minutes });
}

/** The same shift as the guild's clock shows it. */
export function plannedTime({ startsAt, minutes }: ShiftTime, zone: string): PlannedTime {
  const from = localTimeOf(startsAt, zone);
  const until = localTimeOf(endOf({ startsAt, minutes }), zone);
  return { day: from.slice(0, 10), start: from.slice(11), end: until.slice(11) };
}

export const endOf = ({ startsAt, minutes }: ShiftTime): string =>
  new Date(Date.parse(startsAt) + minutes * 60_000).toISOString();

const dayAfter = (day: string): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + dayLength).toISOString().slice(0, 10);

/** Committee work begins long before a sale; a year typed wrong lies further away than this. */
const before = 300 * dayLength;
const behind = 120 * dayLength;

export function isFarFrom(day: string, sale: { firstDay: string; lastDay: string }): boolean {
  const time = Date.parse(day);
  return time < Date.parse(sale.firstDay) - before || time > Date.parse(sale.lastDay) + behind;
}
