import type { ScannerSettings } from "./burst.ts";

/** What the test code says: every digit once, and never the number of a tag. */
export const testNumber = "0123456789";

export const testReads = 3;

/** One key with its moment in milliseconds. */
export interface KeyAt {
  key: string;
  at: number;
}

export type Lesson =
  | { kind: "learned"; settings: ScannerSettings; slowest: number }
  | { kind: "wrong"; words: string };

/**
 * Learns from one reading of the test code each: the longest gap between two keys, doubled so
 * that a busy device does not cut a scan in two, and the key at the end.
 */
export function learn(readings: readonly (readonly KeyAt[])[]): Lesson {
  for (const reading of readings) {
    const wrong = whatIsWrong(reading);
    if (wrong) return { kind: "wrong", words: wrong };
  }
  const suffixes = new Set(readings.map(suffixOf));
  if (suffixes.size > 1)
    return {
      kind: "wrong",
      words: "The scanner ended its readings in different ways. Scan the code three times more.",
    };
  const slowest = Math.max(...readings.flatMap(gapsOf));
  const gap = Math.min(120, Math.max(25, Math.ceil(slowest * 2)));
  return { kind: "learned", settings: { gap, suffix: [...suffixes][0]! }, slowest };
}

export const readText = (reading: readonly KeyAt[]): string =>
  reading
    .map(({ key }) => key)
    .filter((key) => key.length === 1)
    .join("");

function suffixOf(reading: readonly KeyAt[]): "Enter" | "Tab" | "none" {
  const last = reading.at(-1)?.key;
  return last === "Enter" || last === "Tab" ? last : "none";
}

/** The key at the end may come late; only the gaps between the digits count. */
function gapsOf(reading: readonly KeyAt[]): number[] {
  const digits = reading.filter(({ key }) => key.length === 1);
  return digits.slice(1).map(({ at }, index) => at - digits[index]!.at);
}

function whatIsWrong(reading: readonly KeyAt[]): string | undefined {
  const text = readText(reading);
  if (text === testNumber) {
    if (Math.max(...gapsOf(reading)) <= 100) return undefined;
    return "The digits came as slowly as typing. Please use the scanner, not the keyboard.";
  }
  if (text.length === testNumber.length && !/^\d+$/.test(text))
    return `The scanner typed “${text}”: it is set to another keyboard than this device. Set the keyboard of the scanner by its manual, or change this device's keyboard.`;
  return `The scanner typed “${text}” instead of ${testNumber}. Hold it straight over the test code and scan once more.`;
}
