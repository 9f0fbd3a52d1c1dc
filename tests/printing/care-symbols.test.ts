import { describe, expect, test } from "vitest";
import {
  allSymbols,
  drawSymbol,
  inStandardOrder,
  isSymbol,
  symbolPaths,
} from "../../src/printing/care-symbols/symbols.ts";
import { PageInk } from "../../src/printing/ink.ts";
import { plainContent } from "../../src/printing/labels/content.ts";
import type { Path, Segment } from "../../src/printing/shapes.ts";
import { careSteps } from "../../src/rules/labels/care/levels.ts";
import { careSymbols } from "../../src/rules/labels/care/symbols.ts";
import { fullLabel } from "./samples.ts";

const sets = ["astm", "iso"] as const;

const pointsOf = (segments: readonly Segment[]): [number, number][] =>
  segments.flatMap((segment): [number, number][] => {
    const figures = segment.slice(1) as number[];
    return figures.flatMap((value, index): [number, number][] =>
      index % 2 === 0 ? [[value, figures[index + 1]!]] : [],
    );
  });

const dotsIn = (paths: Path[]): number => paths.filter(({ paint }) => paint === "fill").length;

/** Bars are level lines below the symbol's own grid of 24 units. */
const barsIn = (paths: Path[]): number =>
  paths.filter(({ segments }) => {
    const points = pointsOf(segments);
    return points.length === 2 && points.every(([, y]) => y > 22 && y === points[0]![1]);
  }).length;

const paths = (set: (typeof sets)[number], code: string) => symbolPaths(set, code, 0, 0, 24);

describe.each(sets)("the %s set", (set) => {
  test("stands in the standard order", () => {
    const axes = allSymbols(set).map((code) => code.split(":")[0]);
    expect([...new Set(axes)]).toEqual(["wash", "bleach", "dry", "iron", "professional"]);
    expect(
      inStandardOrder([...allSymbols(set)].reverse()).map((code) => code.split(":")[0]),
    ).toEqual(axes);
  });

  test("draws every symbol differently and inside its place", () => {
    const seen = new Set<string>();
    for (const code of allSymbols(set)) {
      const drawn = symbolPaths(set, code, 100, 50, 12);
      seen.add(JSON.stringify(drawn));
      for (const [x, y] of drawn.flatMap(({ segments }) => pointsOf(segments))) {
        expect(x, code).toBeGreaterThanOrEqual(100 + 0.5);
        expect(x, code).toBeLessThanOrEqual(112 - 0.5);
        expect(y, code).toBeGreaterThanOrEqual(50 + 0.5);
        expect(y, code).toBeLessThanOrEqual(50 + 12 * 1.12 - 0.3);
      }
    }
    expect(seen.size).toBe(allSymbols(set).length);
  });

  test("has a symbol for everything that the care rules say", () => {
    for (const [step, levels] of Object.entries(careSteps)) {
      for (const level of levels) {
        const whole = {
          wash: "machine-40",
          bleach: "any",
          dry: "flat",
          iron: "1",
          professional: "P",
          [step]: level,
        } as Parameters<typeof careSymbols>[0];
        const symbols = careSymbols(whole, set);
        for (const code of symbols) expect(isSymbol(set, code), code).toBe(true);
        expect(inStandardOrder(symbols)).toEqual(symbols);
      }
    }
  });

  // One bar is mild, two very mild (ISO 3758; permanent press and delicate in ASTM D5489).
  test("tells gentleness by bars", () => {
    for (const code of ["wash:machine-40", "professional:P", "professional:W"]) {
      expect(barsIn(paths(set, code))).toBe(0);
      expect(barsIn(paths(set, `${code}-gentle`))).toBe(1);
      expect(barsIn(paths(set, `${code}-very-gentle`))).toBe(2);
    }
  });

  // 110, 150 and 200 degrees Celsius in both standards.
  test("tells an iron's heat by dots", () => {
    for (const heat of [1, 2, 3]) expect(dotsIn(paths(set, `iron:${heat}`))).toBe(heat);
    expect(dotsIn(paths(set, "iron:none"))).toBe(0);
  });

  test.each([
    "wash",
    "wash:",
    "wash:machine-45",
    "iron:4",
    "dry:tumble",
    "professional:X",
    "rinse:1",
  ])("refuses %s", (code) => {
    expect(isSymbol(set, code)).toBe(false);
    expect(() => symbolPaths(set, code, 0, 0, 24)).toThrow(RangeError);
  });
});

describe("the two sets differ", () => {
  // ASTM D5489: dots 1 to 6 for 30, 40, 50, 60, 70 and 95 °C (count from memory); ISO: the figure.
  test("in how they tell the water's heat", () => {
    ["30", "40", "50", "60", "70", "95"].forEach((heat, index) => {
      expect(dotsIn(paths("astm", `wash:machine-${heat}`))).toBe(index + 1);
      expect(dotsIn(paths("iso", `wash:machine-${heat}`))).toBe(0);
    });
  });

  test("in how they hang and drip", () => {
    for (const code of ["dry:line", "dry:drip", "dry:flat-shade"]) {
      expect(paths("astm", code)).not.toEqual(paths("iso", code));
    }
    expect(paths("astm", "dry:flat")).toEqual(paths("iso", "dry:flat"));
    expect(isSymbol("astm", "dry:drip-flat")).toBe(false);
    expect(isSymbol("iso", "dry:tumble-high")).toBe(false);
  });
});

test("a label puts its symbols into the standard order", () => {
  const codes = ["professional:P", "iron:2", "wash:hand", "dry:flat", "bleach:none"];
  const { symbols } = plainContent(fullLabel({ symbols: { set: "iso", codes } }));
  expect(symbols!.codes).toEqual([
    "wash:hand",
    "bleach:none",
    "dry:flat",
    "iron:2",
    "professional:P",
  ]);
});

test("drawing puts each path on the ink", () => {
  const drawn: Path[] = [];
  const ink = new PageInk();
  ink.path = (path) => drawn.push(path);
  drawSymbol(ink, "iso", "wash:machine-40-gentle", 10, 20, 30);
  expect(drawn).toEqual(symbolPaths("iso", "wash:machine-40-gentle", 10, 20, 30));
});
