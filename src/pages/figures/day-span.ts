import { type FieldError, type Problem, problem } from "../../rules/problem.ts";
import { instantOf } from "../../rules/zoned-time.ts";

/** Days on the guild's calendar, both inside, and the moments at which they begin and end. */
export interface Span {
  from: string;
  to: string;
  scope: { from: Date; to: Date };
}

/**
 * Reads a span of days from an address; the calendar year so far when none is asked for. What
 * cannot be read is named by its field, and the year so far stands in.
 */
export function readSpan(
  asked: { from?: unknown; to?: unknown },
  today: string,
  zone: string,
): { span: Span; problem?: Problem } {
  const usual = spanOf(`${today.slice(0, 4)}-01-01`, today, zone);
  if (asked.from === undefined && asked.to === undefined) return { span: usual };
  const from = dayOf(asked.from, "from");
  const to = dayOf(asked.to, "to");
  const errors = [from, to].flatMap((day) => (typeof day === "string" ? [] : [day]));
  if (typeof from === "string" && typeof to === "string") {
    if (from <= to) return { span: spanOf(from, to, zone) };
    errors.push({ field: "to", message: "The last day comes before the first day." });
  }
  return { span: usual, problem: problem("invalid-input", "These are not the days.", errors) };
}

function dayOf(given: unknown, field: string): string | FieldError {
  const isDay =
    typeof given === "string" &&
    /^[12]\d{3}-\d\d-\d\d$/.test(given) &&
    instantOf(`${given}T00:00`, "UTC") !== undefined;
  return isDay ? given : { field, message: "Give a day, such as 2026-11-30." };
}

function spanOf(from: string, to: string, zone: string): Span {
  const next = new Date(Date.parse(`${to}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);
  const moment = (day: string): Date => {
    const instant = instantOf(`${day}T00:00`, zone);
    if (instant === undefined) throw new RangeError(`Not a day: ${day}`);
    return new Date(instant);
  };
  return { from, to, scope: { from: moment(from), to: moment(next) } };
}
