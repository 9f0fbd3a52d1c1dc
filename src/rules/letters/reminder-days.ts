import { ok, type Result, refuseField } from "../problem.ts";

export const mostReminders = 4;
export const earliestReminder = 60;

const wanted = `Give up to ${mostReminders} numbers of days from 1 to ${earliestReminder}, such as 14, 2.`;

/** "14, 2" as days before the deadline, the earliest first; nothing for no reminder. */
export function readReminderDays(text: string): Result<number[]> {
  const parts = text.split(/[\s,;]+/).filter(Boolean);
  const days = [...new Set(parts.map((part) => (/^\d{1,2}$/.test(part) ? Number(part) : 0)))];
  if (days.length > mostReminders || days.some((one) => one < 1 || one > earliestReminder))
    return refuseField("days", wanted);
  return ok(days.sort((a, b) => b - a));
}
