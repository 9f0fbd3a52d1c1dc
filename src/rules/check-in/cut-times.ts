import { ok, type Result, refuseField } from "../problem.ts";
import { type PlannedTime, type ShiftTime, shiftTime } from "../shifts/shift-time.ts";

/** More at once is a slip of the finger (common practice, no source). */
export const mostTimes = 60;

/**
 * Cuts a span of a day into check-in times of the same length, on the clock of a zone; without a
 * length the span is one time. What is left at the end and too short for another one is left out.
 */
export function cutTimes(
  span: PlannedTime & { each: number | null },
  zone: string,
): Result<ShiftTime[]> {
  const whole = shiftTime(span, zone);
  if (!whole.ok) return whole;
  const { startsAt, minutes } = whole.value;
  const each = span.each ?? minutes;
  if (each < 5) return refuseField("each", "A check-in time takes 5 minutes at least.");
  if (each > minutes)
    return refuseField("each", "That is longer than the whole time from start to end.");
  const count = (minutes - (minutes % each)) / each;
  if (count > mostTimes)
    return refuseField("each", `That makes ${count} times. At most ${mostTimes} come at once.`);
  const first = Date.parse(startsAt);
  return ok(
    Array.from({ length: count }, (_, index) => ({
      startsAt: new Date(first + index * each * 60_000).toISOString(),
      minutes: each,
    })),
  );
}
