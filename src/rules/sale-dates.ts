import type { FieldError } from "./problem.ts";
import { localDayOf } from "./zoned-time.ts";

/** Days are "YYYY-MM-DD" on the guild's calendar; the deadline is an instant in ISO 8601. */
export interface SaleDates {
  firstDay: string;
  lastDay: string;
  entryDeadline: string;
}

/** What is wrong with the dates of a sale (common practice, no source). */
export function checkSaleDates(dates: SaleDates, timeZone: string): FieldError[] {
  const { firstDay, lastDay, entryDeadline } = dates;
  if (lastDay < firstDay)
    return [{ field: "lastDay", message: "The last day comes before the first day." }];
  if (localDayOf(entryDeadline, timeZone) > lastDay)
    return [
      {
        field: "entryDeadline",
        message: "Entries must end before the sale is over. Choose an earlier deadline.",
      },
    ];
  return [];
}
