/** Instants are ISO 8601 texts in UTC; local times are "YYYY-MM-DDTHH:MM" as a clock on the wall shows. */
export type LocalTime = string;

const localPattern = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})$/;

const formatters = new Map<string, Intl.DateTimeFormat>();

function wallClock(zone: string): Intl.DateTimeFormat {
  const known = formatters.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat("en-CA", {
    timeZone: zone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
  formatters.set(zone, made);
  return made;
}

/** What the wall clock of a zone shows at an instant. */
export function localTimeOf(instant: string, zone: string): LocalTime {
  const parts = new Map(
    wallClock(zone)
      .formatToParts(new Date(instant))
      .map((part) => [part.type, part.value]),
  );
  const day = `${parts.get("year")}-${parts.get("month")}-${parts.get("day")}`;
  return `${day}T${parts.get("hour")}:${parts.get("minute")}`;
}

/** The day on the wall calendar of a zone at an instant, "YYYY-MM-DD". */
export const localDayOf = (instant: string, zone: string): string =>
  localTimeOf(instant, zone).slice(0, 10);

/**
 * The instant at which the wall clock shows a local time; undefined when the text is no time. A
 * time that comes twice in autumn means the first; a time that is skipped in spring means the
 * moment as far after the jump as it would have been without one.
 */
export function instantOf(local: LocalTime, zone: string): string | undefined {
  const [, year, month, day, hour, minute] = (localPattern.exec(local) ?? []).map(Number);
  if (year === undefined || month === undefined || day === undefined) return undefined;
  const asUtc = Date.UTC(year, month - 1, day, hour, minute);
  if (new Date(asUtc).toISOString().slice(0, 16) !== local) return undefined;
  const hours = 3_600_000;
  // A change of the clock lies within a day, so the offsets on both sides of it are the only ones.
  const before = offsetAt(asUtc - 24 * hours, zone);
  const after = offsetAt(asUtc + 24 * hours, zone);
  const fitting = [asUtc - before, asUtc - after]
    .filter((time) => localTimeOf(new Date(time).toISOString(), zone) === local)
    .sort((a, b) => a - b);
  return new Date(fitting[0] ?? asUtc - before).toISOString();
}

/** Milliseconds by which the wall clock of a zone is ahead of UTC at a moment. */
function offsetAt(time: number, zone: string): number {
  const minute = 60_000;
  const whole = time - (((time % minute) + minute) % minute);
  return Date.parse(`${localTimeOf(new Date(whole).toISOString(), zone)}:00Z`) - whole;
}
