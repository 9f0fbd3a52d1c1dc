const formatters = new Map<string, Intl.DateTimeFormat>();
const zones = new Map<string, Intl.DateTimeFormat>();

/** "Nov 27, 2026" for the day "2026-11-27": a day of the calendar, whatever the clocks say. */
export const dayText = (day: string, locale: string): string =>
  formatter(locale).format(new Date(`${day}T00:00:00Z`));

/** "Nov 27 – 29, 2026": two days as one span; one day stands alone. */
export const spanText = (first: string, last: string, locale: string): string =>
  formatter(locale).formatRange(new Date(`${first}T00:00:00Z`), new Date(`${last}T00:00:00Z`));

/** The calendar day of a moment where the guild's clocks are, as "2026-11-27". */
export function dayIn(at: Date, timeZone: string): string {
  const parts = zone(timeZone).formatToParts(at);
  const part = (type: string) => parts.find((one) => one.type === type)?.value ?? "";
  return `${part("year").padStart(4, "0")}-${part("month")}-${part("day")}`;
}

function zone(timeZone: string): Intl.DateTimeFormat {
  const known = zones.get(timeZone);
  if (known) return known;
  const fresh = new Intl.DateTimeFormat("en", {
    timeZone,
    calendar: "gregory",
    numberingSystem: "latn",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  });
  zones.set(timeZone, fresh);
  return fresh;
}

function formatter(locale: string): Intl.DateTimeFormat {
  const known = formatters.get(locale);
  if (known) return known;
  const fresh = new Intl.DateTimeFormat(locale, { dateStyle: "medium", timeZone: "UTC" });
  formatters.set(locale, fresh);
  return fresh;
}
