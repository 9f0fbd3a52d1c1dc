import { readTypedNumber } from "../../rules/typed-number.ts";

export type Fields = Readonly<Record<string, unknown>>;

/** One field of a form; a field that was sent twice or not at all counts as empty. */
export const textOf = (fields: Fields, name: string): string => {
  const value = Object.hasOwn(fields, name) ? fields[name] : "";
  return typeof value === "string" ? value.trim() : "";
};

export const ticked = (fields: Fields, name: string): boolean => textOf(fields, name) === "yes";

/** Several boxes of one name: one ticked arrives as a text, more as a list, none not at all. */
export const tickedOf = (fields: Fields, name: string): string[] =>
  Object.hasOwn(fields, name) ? [fields[name]].flat().filter((one) => typeof one === "string") : [];

/** Rows 0 to `most` of a list of fields, of which those count that say anything. */
export const filledRows = (most: number, isFilled: (row: number) => boolean): number[] =>
  Array.from({ length: most }, (_, row) => row).filter(isFilled);

/**
 * A typed measure in thousandths of its unit ("12.5" is 12500), or 0 for what is no measure, which
 * every shape refuses in its own words.
 */
export function thousandthsOf(text: string): number {
  const typed = readTypedNumber(text, 2);
  if (typeof typed === "string" || typed.negative) return 0;
  if (typed.fraction.length > 3 || typed.whole.length > 8) return 0;
  return Number(typed.whole + typed.fraction.padEnd(3, "0"));
}

/** "12.5" for 12500: as many decimals as it needs. */
export function thousandthsText(figure: number): string {
  const digits = String(figure).padStart(4, "0");
  return `${digits.slice(0, -3)}.${digits.slice(-3)}`.replace(/\.?0+$/, "");
}
