const orders = new Map<string, string>();

/** "mdy" where a language writes the month before the day, such as US English; else "dmy". */
function orderOf(locale: string): string {
  const known = orders.get(locale);
  if (known) return known;
  const parts = new Intl.DateTimeFormat(locale, { dateStyle: "short" }).formatToParts(new Date(0));
  const month = parts.findIndex(({ type }) => type === "month");
  const order = month < parts.findIndex(({ type }) => type === "day") ? "mdy" : "dmy";
  orders.set(locale, order);
  return order;
}

/**
 * A day as people and spreadsheets write it, as "2026-11-27"; undefined when it is no day. With
 * slashes the guild's language says whether the month comes first; with points the day does.
 */
export function readDay(text: string, locale: string): string | undefined {
  const typed = text.trim();
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(typed);
  if (iso) return dayOf(iso[1]!, iso[2]!, iso[3]!);
  const spaced = /^(\d{1,2})([/.])(\d{1,2})\2(\d{4})$/.exec(typed);
  if (!spaced) return undefined;
  const [, first = "", sign, second = "", year = ""] = spaced;
  const monthFirst = sign === "/" && orderOf(locale) === "mdy";
  return monthFirst ? dayOf(year, first, second) : dayOf(year, second, first);
}

function dayOf(year: string, month: string, day: string): string | undefined {
  const text = `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;
  const read = new Date(`${text}T00:00:00Z`);
  // A calendar that rolls over would take February 30 for March 2.
  const same = !Number.isNaN(read.getTime()) && read.toISOString().startsWith(text);
  return same ? text : undefined;
}

/** A time of day as people write it ("9:00", "13.30", "1 pm", "12:15 AM"), as "13:30". */
export function readTime(text: string): string | undefined {
  const typed = text.trim().toLowerCase().replace(/\s+/g, " ");
  const found = /^(\d{1,2})(?:[:.](\d{2})(?::00)?)? ?([ap])?(?:\.?m\.?)?$/.exec(typed);
  if (!found || (!found[3] && (found[2] === undefined || /m/.test(typed)))) return undefined;
  const typedHour = Number(found[1]);
  const half = found[3];
  if (half && (typedHour < 1 || typedHour > 12)) return undefined;
  const hour = half ? (typedHour % 12) + (half === "p" ? 12 : 0) : typedHour;
  const minute = Number(found[2] ?? 0);
  if (hour > 23 || minute > 59) return undefined;
  return `${String(hour).padStart(2, "0")}:${String(minute).padStart(2, "0")}`;
}

/**
 * A length of work in whole minutes: "2:30", "2 h 30", "2.5", "3 hours", "45 min". A number alone
 * means hours. Undefined when it is no length, or not a whole number of minutes.
 */
export function readLength(text: string): number | undefined {
  const typed = text.trim().toLowerCase();
  const both = /^(\d{1,2}) ?(?::|h|hours?) ?(\d{1,2}) ?(?:m|min|minutes?)?$/.exec(typed);
  if (both) return Number(both[2]) > 59 ? undefined : Number(both[1]) * 60 + Number(both[2]);
  const minutes = /^(\d{1,4}) ?(?:m|min|minutes?)$/.exec(typed);
  if (minutes) return Number(minutes[1]);
  const hours = /^(\d{1,2})(?:[.,](\d{1,2}))? ?(?:h|hours?)?$/.exec(typed);
  if (!hours) return undefined;
  const hundredths = Number((hours[2] ?? "").padEnd(2, "0"));
  const part = hundredths * 60;
  return part % 100 === 0 ? Number(hours[1]) * 60 + part / 100 : undefined;
}
