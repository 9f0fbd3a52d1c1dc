import { type Burst, endedBy, noBurst, type ScannerSettings, settled, withKey } from "./burst.ts";
import { isField } from "./dom.ts";
import type { KeyAt } from "./learn-scanner.ts";

export interface ScannerDeeds {
  settings(): ScannerSettings;
  tagLength(): number;
  scanned(text: string): void;
  /** While the scanner is being taught, every key goes here and nowhere else. */
  lesson(): ((key: KeyAt) => void) | undefined;
}

/** A field as it was before a scanner typed into it. */
interface Kept {
  field: HTMLInputElement;
  value: string;
}

/**
 * Hears the scanner wherever the focus stands, a dialog among them: it types like a keyboard, only
 * quicker than a hand. What it typed into a field is taken out again, and its last key presses
 * nothing.
 */
export function listenToScanner(deeds: ScannerDeeds): void {
  let burst: Burst = noBurst;
  let kept: Kept | undefined;
  let quiet: ReturnType<typeof setTimeout> | undefined;

  const take = (text: string): void => {
    const field = document.activeElement;
    if (kept) kept.field.value = kept.value;
    // The first digit may have brought the focus here from somewhere that is no field.
    else if (isField(field) && field.value.endsWith(text))
      field.value = field.value.slice(0, -text.length);
    burst = noBurst;
    kept = undefined;
    deeds.scanned(text);
  };
  const waitForQuiet = (settings: ScannerSettings): void => {
    quiet = setTimeout(() => {
      const text = settled(burst, deeds.tagLength());
      if (text) take(text);
    }, settings.gap * 2);
  };

  const heard = (event: KeyboardEvent): void => {
    const { key, timeStamp: at, target } = event;
    clearTimeout(quiet);
    if (isNoKey(event)) return;
    const settings = deeds.settings();
    const ended = endedBy(burst, key, at, settings, deeds.tagLength());
    if (ended) {
      event.preventDefault();
      event.stopImmediatePropagation();
      take(ended);
    } else if (key.length === 1) {
      const next = withKey(burst, key, at, settings);
      burst = next.burst;
      if (next.began) kept = isField(target) ? { field: target, value: target.value } : undefined;
      if (settings.suffix === "none") waitForQuiet(settings);
    } else burst = noBurst;
  };

  document.addEventListener(
    "keydown",
    (event) => {
      const lesson = deeds.lesson();
      if (!lesson) return heard(event);
      if (event.key === "Escape" || event.isComposing) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      if (event.key !== "Shift") lesson({ key: event.key, at: event.timeStamp });
    },
    { capture: true },
  );
}

/** Held keys, shortcuts and half-composed letters are never a scanner's. */
const isNoKey = ({ key, repeat, isComposing, ctrlKey, altKey, metaKey }: KeyboardEvent): boolean =>
  repeat || isComposing || ctrlKey || altKey || metaKey || key === "Shift";
