import { ok, type Result, refuseField } from "./problem.ts";
import { readTypedNumber } from "./typed-number.ts";

/** The longest time that can be asked for: nobody works longer for one sale. */
const mostHours = 999;

/**
 * Reads hours as people write them, "2:30", "2.5" or "2,5 h", as whole minutes above zero. Decimal
 * hours with up to two digits are rounded to the minute, so that 1.33 is an hour and 20 minutes.
 */
export function parseHours(text: string, field: string): Result<number> {
  const wrong = () => refuseField(field, "Type hours such as 2, 2:30 or 2.5.");
  const bare = text
    .normalize("NFKC")
    .trim()
    .replace(/\s*h(?:ours?)?\.?$/i, "");
  const [, hours, minutes] = /^(\d{1,3}):([0-5]\d)$/.exec(bare) ?? [];
  if (hours !== undefined) return minutesIn(Number(hours) * 60 + Number(minutes), field);
  const typed = readTypedNumber(bare, 2);
  if (typeof typed === "string" || typed.negative || typed.fraction.length > 2) return wrong();
  if (typed.whole.length > 3) return wrong();
  const hundredths = Number(typed.whole + typed.fraction.padEnd(2, "0"));
  return minutesIn(Math.floor((hundredths * 60 + 50) / 100), field);
}

function minutesIn(minutes: number, field: string): Result<number> {
  if (minutes < 1) return refuseField(field, "Type more than no time at all, such as 0:30.");
  if (minutes > mostHours * 60) return refuseField(field, `The most are ${mostHours} hours.`);
  return ok(minutes);
}

/** "2" for whole hours, otherwise "2:30": whole minutes as they stand in a field. */
export function hoursText(minutes: number): string {
  const rest = minutes % 60;
  const hours = String((minutes - rest) / 60);
  return rest === 0 ? hours : `${hours}:${String(rest).padStart(2, "0")}`;
}
