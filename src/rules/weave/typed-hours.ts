import { readTypedNumber } from "../typed-number.ts";

/**
 * Hours as people type them, in whole minutes: "1.5", "1:30" and "90 min" are 90. Undefined for
 * what is none of these; nothing typed is no time.
 */
export function readHours(text: string): number | undefined {
  const plain = text.normalize("NFKC").trim();
  if (plain === "") return 0;
  const [, hours, rest] = /^(\d{1,4}):([0-5]\d)$/.exec(plain) ?? [];
  if (hours !== undefined) return Number(hours) * 60 + Number(rest);
  const [, minutes] = /^(\d{1,6})\s*min(?:utes)?\.?$/i.exec(plain) ?? [];
  if (minutes !== undefined) return Number(minutes);
  const typed = readTypedNumber(plain.replace(/\s*h(?:ours?)?\.?$/i, ""), 2);
  if (typeof typed === "string" || typed.negative) return undefined;
  if (typed.whole.length > 4 || typed.fraction.length > 2) return undefined;
  const hundredths = BigInt(typed.whole + typed.fraction.padEnd(2, "0"));
  return Number((hundredths * 60n + 50n) / 100n);
}

/** Minutes as a field shows them: "1.5" where quarters of an hour tell it, else "1:20". */
export function hoursText(minutes: number): string {
  const whole = Math.floor(minutes / 60);
  const rest = minutes % 60;
  const quarters = ["", ".25", ".5", ".75"];
  if (rest % 15 === 0) return `${whole}${quarters[rest / 15]}`;
  return `${whole}:${String(rest).padStart(2, "0")}`;
}
