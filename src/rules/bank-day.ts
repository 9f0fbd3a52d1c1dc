import type { Day } from "./tax/tax-rules.ts";

/** Some guilds sell to friends before the first day; more than a month before is a slip. */
const daysBefore = 31;

/**
 * What is wrong with the day of a deposit or a card total, where the guild is; undefined when it
 * can be right. A year typed wrong would stand in the books for ever.
 */
export function strangeBankDay(day: Day, firstDay: Day, today: Day): string | undefined {
  if (day > today) return "This day has not come yet. Check the date.";
  const earliest = Date.parse(`${firstDay}T00:00:00Z`) - daysBefore * 86_400_000;
  if (Date.parse(`${day}T00:00:00Z`) < earliest)
    return "This day is long before the sale. Check the year.";
  return undefined;
}
