import type { ShiftTime } from "./shift-time.ts";
import { endOf } from "./shift-time.ts";

/** What was ticked off: worked, missed, or nothing yet. */
export const marks = ["worked", "missed"] as const;
export type Mark = (typeof marks)[number];

/** "2 h 30 min", or "0 h" for nothing: a length of work from whole minutes. */
export function hoursText(minutes: number): string {
  const rest = minutes % 60;
  const hours = (minutes - rest) / 60;
  if (hours === 0 && rest > 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

/** "2:30", as a person types a length. */
export const lengthText = (minutes: number): string =>
  `${(minutes - (minutes % 60)) / 60}:${String(minutes % 60).padStart(2, "0")}`;

const formatters = new Map<string, Intl.DateTimeFormat>();

function formatter(locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = JSON.stringify([locale, options]);
  const known = formatters.get(key) ?? new Intl.DateTimeFormat(locale, options);
  formatters.set(key, known);
  return known;
}

/** "10:00 AM – 1:00 PM" on the guild's clock; a shift over midnight names the day it ends. */
export function timesText(time: ShiftTime, locale: string, timeZone: string): string {
  const short = formatter(locale, { timeStyle: "short", timeZone });
  const [from, until] = [new Date(time.startsAt), new Date(endOf(time))];
  const sameDay = dayTitle(from, locale, timeZone) === dayTitle(until, locale, timeZone);
  const weekday = formatter(locale, { weekday: "long", timeZone }).format(until);
  return `${short.format(from)} – ${short.format(until)}${sameDay ? "" : ` on ${weekday}`}`;
}

/** "Friday, Nov 27, 2026": the day of a moment on the guild's clock. */
export const dayTitle = (at: Date, locale: string, timeZone: string): string =>
  formatter(locale, {
    ...{ weekday: "long", day: "numeric", month: "short", year: "numeric" },
    timeZone,
  }).format(at);
