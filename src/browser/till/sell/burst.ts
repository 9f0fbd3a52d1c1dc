/** How this till's scanner types, learned once for each device. */
export interface ScannerSettings {
  /** The longest time between two keys of one scan, in milliseconds. */
  gap: number;
  /** What it presses after the number. "any" holds until it has been taught. */
  suffix: "Enter" | "Tab" | "none" | "any";
}

/** Most scanners need 8 to 16 ms and nobody types eight digits at 40. */
export const untaught: ScannerSettings = { gap: 40, suffix: "any" };

/** Keys that came so quickly that no hand pressed them, up to now. */
export interface Burst {
  text: string;
  lastAt: number;
}

export const noBurst: Burst = { text: "", lastAt: Number.NEGATIVE_INFINITY };

/** A printable key: it goes on with the burst or begins one. `began` asks to keep the field. */
export function withKey(
  burst: Burst,
  key: string,
  at: number,
  { gap }: ScannerSettings,
): { burst: Burst; began: boolean } {
  const goesOn = at - burst.lastAt <= gap;
  return { burst: { text: goesOn ? burst.text + key : key, lastAt: at }, began: !goesOn };
}

/** Some scanners wait a little longer before the key at the end. */
const beforeSuffix = 3;

/**
 * The number of a burst that ends with this key, or undefined when it is not a scan. What is as
 * long as a tag and came this quickly is a scan even if it was misread: the digits must not stay
 * in a field for money.
 */
export function endedBy(
  burst: Burst,
  key: string,
  at: number,
  { gap, suffix }: ScannerSettings,
  tagLength: number,
): string | undefined {
  const ends = suffix === "any" ? key === "Enter" || key === "Tab" : key === suffix;
  if (!ends || at - burst.lastAt > gap * beforeSuffix) return undefined;
  return looksScanned(burst.text, tagLength) ? burst.text : undefined;
}

/** For a scanner that presses nothing at the end: the number of a burst that has gone quiet. */
export function settled(burst: Burst, tagLength: number): string | undefined {
  return looksScanned(burst.text, tagLength) ? burst.text : undefined;
}

const looksScanned = (text: string, tagLength: number): boolean =>
  text.length === tagLength && /^\d+$/.test(text);
