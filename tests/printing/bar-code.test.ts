import bwip from "bwip-js/node";
import { describe, expect, test } from "vitest";
import { barWidths, checkSymbol, modulesFor, moduleWidth } from "../../src/printing/bar-code.ts";

const modules = (widths: number[]): number => widths.reduce((sum, width) => sum + width, 0);

describe("check symbol", () => {
  // The first is a worked example of public bar code references for ISO/IEC 15417; the others are
  // computed by hand from its rule, start + sum of position × value, modulo 103.
  test.each([
    ["345678", 73],
    ["04501286", 74],
    ["10100126", 36],
    ["12345676", 39],
  ])("of %s is %i", (digits, expected) => {
    expect(checkSymbol(digits)).toBe(expected);
  });
});

describe("bar widths", () => {
  test("are those the library draws for the same digits", () => {
    for (let index = 0; index < 200; index += 1) {
      const digits = String(10_000_000 + index * 449_951).padStart(index % 2 === 0 ? 8 : 10, "0");
      const [drawn] = bwip.raw("code128", digits);
      expect(drawn).toMatchObject({ sbs: barWidths(digits) });
    }
  });

  test("take 79 modules for 8 digits and 90 for 10", () => {
    expect(modules(barWidths("04501286"))).toBe(79);
    expect(modulesFor(8)).toBe(79);
    expect(modules(barWidths("1234000013"))).toBe(90);
    expect(modulesFor(10)).toBe(90);
  });

  test.each(["", "1234567", "M045-012"])("refuse %j", (digits) => {
    expect(() => barWidths(digits)).toThrow(RangeError);
  });
});

describe("module width", () => {
  test("is 0.33 mm where the bars and quiet zones fit, else 0.25 mm", () => {
    expect(moduleWidth(8, 32.67)).toBe(0.33);
    expect(moduleWidth(8, 32.66)).toBe(0.25);
    expect(moduleWidth(10, 36.31)).toBe(0.33);
    expect(moduleWidth(10, 36.29)).toBe(0.25);
  });

  test("is refused when even the narrow one does not fit", () => {
    expect(() => moduleWidth(8, 24.7)).toThrow(RangeError);
  });
});
