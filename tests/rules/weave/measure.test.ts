import fc from "fast-check";
import { expect, test } from "vitest";
import { fraction } from "../../../src/rules/fraction.ts";
import {
  decimalText,
  fieldText,
  inBase,
  inUnit,
  type LengthUnit,
  readMeasure,
} from "../../../src/rules/weave/measure.ts";
import { measure } from "../../support/build-sheet.ts";

test.each([
  ["in", "m", "0.0254"],
  ["ft", "in", "12.0000"],
  ["yd", "m", "0.9144"],
  ["lb", "oz", "16.0000"],
  ["lb", "g", "453.5924"],
  ["oz", "g", "28.3495"],
  ["per-cm", "per-in", "2.5400"],
  ["oz/sqyd", "g/sqm", "33.9057"],
  ["oz/sqft", "oz/sqyd", "9.0000"],
] as const)("one %s in %s is %s", (from, to, text) => {
  expect(decimalText(inUnit(inBase(measure(1, from)), to), 4)).toBe(text);
});

test("a field that still says what it was shown as keeps what was typed: no drift", () => {
  const units: LengthUnit[] = ["in", "cm", "ft", "yd", "m"];
  const unit = fc.constantFrom(...units);
  const typed = fc.record({ thousandths: fc.integer({ min: 0, max: 99_999_999 }), unit });
  fc.assert(
    fc.property(typed, fc.array(unit, { minLength: 1 }), (before, shown) => {
      const after = shown.reduce((kept, at) => readMeasure(fieldText(kept, at), at, kept)!, before);
      expect(after).toBe(before);
    }),
  );
});

test("another figure in the field is read in the unit of the field", () => {
  const before = measure(10, "in");
  expect(fieldText(before, "cm")).toBe("25.4");
  expect(readMeasure("26", "cm", before)).toEqual(measure(26, "cm"));
  expect(readMeasure(" 12,5 ", "cm")).toEqual(measure(12.5, "cm"));
});

test.each(["", "abc", "-3", "1.2345", "12345678"])("%j is no measure", (text) => {
  expect(readMeasure(text, "in", measure(1, "in"))).toBeUndefined();
});

test("figures are rounded only to be shown, halves away from zero", () => {
  const shown = (top: number, bottom: number, decimals: number) =>
    decimalText(fraction(top, bottom), decimals);
  expect(shown(1, 2, 0)).toBe("1");
  expect(shown(-1, 8, 2)).toBe("-0.13");
  expect(shown(-1, 1_000, 2)).toBe("0.00");
  expect(shown(1_000, 3, 4)).toBe("333.3333");
  expect(fieldText(measure(20, "in"), "in")).toBe("20");
});
