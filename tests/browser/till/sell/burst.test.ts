import { expect, test } from "vitest";
import {
  type Burst,
  endedBy,
  noBurst,
  type ScannerSettings,
  settled,
  untaught,
  withKey,
} from "../../../../src/browser/till/sell/burst.ts";
import { isDoubleRead } from "../../../../src/browser/till/sell/double-read.ts";

const number = "10432176";

/** Plays keys with a time between them and says what the last one made of them. */
function play(keys: string[], gap: number, settings: ScannerSettings, start = noBurst) {
  let burst: Burst = start;
  let at = 1_000;
  let scan: string | undefined;
  let began = 0;
  for (const key of keys) {
    at += gap;
    if (key.length > 1) scan = endedBy(burst, key, at, settings, 8);
    else {
      const next = withKey(burst, key, at, settings);
      burst = next.burst;
      if (next.began) began += 1;
    }
  }
  return { scan, burst, began };
}

test.each([2, 8, 16, 30, 40])("a scan with %i ms between its keys is heard untaught", (gap) => {
  expect(play([...number, "Enter"], gap, untaught).scan).toBe(number);
  expect(play([...number, "Tab"], gap, untaught).scan).toBe(number);
  expect(play([...number, "Enter"], gap, untaught).began).toBe(1);
});

test("a slow scanner is heard once its gap has been taught, and not before", () => {
  expect(play([...number, "Enter"], 60, untaught).scan).toBeUndefined();
  expect(play([...number, "Enter"], 60, { gap: 80, suffix: "Enter" }).scan).toBe(number);
});

test("typing is no scan, however it ends", () => {
  expect(play([...number, "Enter"], 140, untaught).scan).toBeUndefined();
  expect(play([..."scarf", "Enter"], 10, untaught).scan).toBeUndefined();
  expect(play([..."123", "Enter"], 10, untaught).scan).toBeUndefined();
});

test("a scan right after typing is told from it", () => {
  const typed: Burst = { text: "45", lastAt: 0 };
  const { scan, began } = play([...number, "Enter"], 8, untaught, typed);
  expect(scan).toBe(number);
  expect(began).toBe(1);
});

test("the key that was taught ends a scan and the other does not", () => {
  expect(play([...number, "Tab"], 8, { gap: 30, suffix: "Tab" }).scan).toBe(number);
  expect(play([...number, "Enter"], 8, { gap: 30, suffix: "Tab" }).scan).toBeUndefined();
  expect(play([...number, "Enter"], 8, { gap: 30, suffix: "none" }).scan).toBeUndefined();
});

test("without a key at the end a burst that went quiet is the scan", () => {
  expect(settled(play([...number], 8, untaught).burst, 8)).toBe(number);
  expect(settled(play([..."1043217"], 8, untaught).burst, 8)).toBeUndefined();
});

test("a late key at the end is still the scan's, a much later one is the person's", () => {
  const { burst } = play([...number], 10, untaught);
  expect(endedBy(burst, "Enter", burst.lastAt + 110, untaught, 8)).toBe(number);
  expect(endedBy(burst, "Enter", burst.lastAt + 400, untaught, 8)).toBeUndefined();
});

test("a code that is read twice at once counts once", () => {
  expect(isDoubleRead({ text: number, at: 1_000 }, number, 1_799)).toBe(true);
  expect(isDoubleRead({ text: number, at: 1_000 }, number, 1_800)).toBe(false);
  expect(isDoubleRead({ text: number, at: 1_000 }, "10432273", 1_100)).toBe(false);
  expect(isDoubleRead(undefined, number, 0)).toBe(false);
});
