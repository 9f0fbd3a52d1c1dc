import { spanText } from "../rules/day.ts";
import { momentText } from "../rules/moment.ts";

/** How this guild writes days and times; nothing of it touches what is stored. */
export interface Region {
  locale: string;
  timeZone: string;
}

/** "Nov 20, 2026, 11:59 PM" on the guild's own clock. */
export const whenText = (instant: string | Date, { locale, timeZone }: Region): string =>
  momentText(new Date(instant), locale, timeZone);

/** "Nov 27 – 29, 2026", or the one day. */
export const daysText = (
  firstDay: string,
  lastDay: string,
  { locale }: Pick<Region, "locale">,
): string => spanText(firstDay, lastDay, locale);

/** "Nov 27, 10 AM" for an hour on the guild's own clock, "2026-11-27T10". */
export const hourText = (hour: string, { locale }: Pick<Region, "locale">): string =>
  new Intl.DateTimeFormat(locale, {
    ...{ month: "short", day: "numeric", hour: "numeric", timeZone: "UTC" },
  }).format(new Date(`${hour}:00:00Z`));
