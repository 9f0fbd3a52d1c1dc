import { describe, expect, test } from "vitest";
import { newSheetShape } from "../../../src/contract/warp-sheet.ts";
import { checkSheet } from "../../../src/rules/weave/check-sheet.ts";
import { decimalText, inUnit } from "../../../src/rules/weave/measure.ts";
import { presetCodes, presetSheet } from "../../../src/rules/weave/presets.ts";
import { workOutSheet } from "../../../src/rules/weave/work-out.ts";

const whole = presetCodes.filter((code) => code !== "empty");

describe.each(["inch", "metric"] as const)("presets in %s", (units) => {
  test.each(whole)("%s can be worked out as they stand", (code) => {
    const preset = presetSheet(code, units);
    expect(newSheetShape.parse(preset)).toEqual(preset);
    expect(checkSheet(preset.sheet)).toEqual([]);
    expect(workOutSheet(preset.sheet).runs.every(({ grams }) => grams.top > 0n)).toBe(true);
  });
});

test("the usual figures are those of a working weaver (common practice, no source)", () => {
  const { sheet } = presetSheet("towels", "inch");
  expect(sheet).toMatchObject({
    ...{ takeUp: 10_000, shrinkage: 10_000, drawIn: 5_000 },
    loomWaste: { thousandths: 30_000, unit: "in" },
    runs: [
      {
        ...{ count: 7, weaving: 60, wefts: [{ by: "picks", extra: 5_000 }] },
        length: { thousandths: 36_000, unit: "in", measured: "loom" },
      },
    ],
  });
  const scarf = presetSheet("scarf", "inch").sheet.runs[0];
  expect(scarf?.weaving).toBeGreaterThanOrEqual(3 * 60);
});

test("towels come to the worked example: 440 ends, 294 in, 942.46 g", () => {
  const outcome = workOutSheet(presetSheet("towels", "inch").sheet);
  expect(outcome.ends).toBe(440);
  expect(decimalText(inUnit(outcome.warpLength, "in"), 4)).toBe("294.0000");
  expect(decimalText(outcome.totalGrams, 2)).toBe("942.46");
});

test("an empty sheet holds the allowances and nothing else", () => {
  const { name, sheet } = presetSheet("empty", "inch");
  expect(name).toBe("");
  expect(sheet.takeUp).toBe(10_000);
  expect(checkSheet(sheet).length).toBeGreaterThan(3);
});
