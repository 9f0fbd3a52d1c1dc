const formatters = new Map<string, Intl.DateTimeFormat>();

/** "Nov 27, 2026, 10:42 AM": a moment as the guild's clocks and language show it. */
export function momentText(at: Date, locale: string, timeZone: string): string {
  const key = `${locale} ${timeZone}`;
  let formatter = formatters.get(key);
  if (!formatter) {
    formatter = new Intl.DateTimeFormat(locale, {
      dateStyle: "medium",
      timeStyle: "short",
      timeZone,
    });
    formatters.set(key, formatter);
  }
  return formatter.format(at);
}
