import { instantOf, localDayOf, localTimeOf } from "../zoned-time.ts";

/** Letters leave between these times of the guild's clock (common practice, no source). */
const morning = "08:00";
const evening = "20:00";

/** "2026-11-20" and -2 make "2026-11-18": days of the calendar, whatever the clocks do. */
export function dayPlus(day: string, days: number): string {
  const date = new Date(`${day}T00:00:00Z`);
  date.setUTCDate(date.getUTCDate() + days);
  return date.toISOString().slice(0, 10);
}

/** The moment at which the morning of a day begins on the guild's clock. */
export function morningOf(day: string, timeZone: string): Date {
  const instant = instantOf(`${day}T${morning}`, timeZone);
  if (!instant) throw new RangeError(`${day} is no day.`);
  return new Date(instant);
}

/** The next morning that begins after a moment: today's, when it is still night. */
export function nextMorning(after: Date, timeZone: string): Date {
  const today = localDayOf(after.toISOString(), timeZone);
  const first = morningOf(today, timeZone);
  return first > after ? first : morningOf(dayPlus(today, 1), timeZone);
}

/** When something that is due now may be sent: at once by day, in the morning by night. */
export function byDay(now: Date, timeZone: string): Date {
  const time = localTimeOf(now.toISOString(), timeZone).slice(11);
  return time >= morning && time < evening ? now : nextMorning(now, timeZone);
}

export interface DueReminder {
  /** The day on which entries end. */
  day: string;
  daysBefore: number;
}

/**
 * The reminder that is due for a deadline: of several whose morning has come the one nearest to
 * the deadline, so that whoever was late to start sends one letter and not two.
 */
export function dueReminder(
  sale: { entryDeadline: Date; reminderDays: readonly number[] },
  now: Date,
  timeZone: string,
): DueReminder | undefined {
  if (sale.entryDeadline <= now) return undefined;
  const day = localDayOf(sale.entryDeadline.toISOString(), timeZone);
  const due = sale.reminderDays.filter((days) => morningOf(dayPlus(day, -days), timeZone) <= now);
  return due.length === 0 ? undefined : { day, daysBefore: Math.min(...due) };
}

/** Whether the morning of the day before a moment has come, and the moment has not. */
export function isEve(at: Date, now: Date, timeZone: string): boolean {
  const day = localDayOf(at.toISOString(), timeZone);
  return now < at && morningOf(dayPlus(day, -1), timeZone) <= now;
}
