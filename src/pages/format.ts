/** How this guild writes days and times; nothing of it touches what is stored. */
export interface Region {
  locale: string;
  timeZone: string;
}

/** "Nov 20, 2026, 11:59 PM" on the guild's own clock. */
export const whenText = (instant: string | Date, { locale, timeZone }: Region): string =>
  new Intl.DateTimeFormat(locale, { dateStyle: "medium", timeStyle: "short", timeZone }).format(
    new Date(instant),
  );

/** "Friday, November 27, 2026" for the day "2026-11-27": a day has no time zone. */
export const dayText = (day: string, { locale }: Pick<Region, "locale">): string =>
  new Intl.DateTimeFormat(locale, { dateStyle: "full", timeZone: "UTC" }).format(
    new Date(`${day}T00:00:00Z`),
  );

/** "Nov 27 – 29, 2026", or the one day. */
export const daysText = (
  firstDay: string,
  lastDay: string,
  { locale }: Pick<Region, "locale">,
): string =>
  new Intl.DateTimeFormat(locale, { dateStyle: "medium", timeZone: "UTC" }).formatRange(
    new Date(`${firstDay}T00:00:00Z`),
    new Date(`${lastDay}T00:00:00Z`),
  );
