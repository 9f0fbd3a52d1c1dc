import type { Rate } from "./money.ts";

/**
 * The markdown in force at a moment, in thousandths of a percent: 0 before `from`, and always when
 * the chair has set no moment. Both moments are ISO texts in UTC or milliseconds since 1970.
 */
export function markdownAt(
  { markdownRate, markdownFrom }: { markdownRate: Rate; markdownFrom: string | null },
  now: string | number,
): Rate {
  if (markdownFrom === null) return 0;
  return new Date(now).getTime() >= new Date(markdownFrom).getTime() ? markdownRate : 0;
}
