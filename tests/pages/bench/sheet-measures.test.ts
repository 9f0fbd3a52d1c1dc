import fc from "fast-check";
import { expect, test } from "vitest";
import {
  inOtherUnits,
  measureAt,
  measureValues,
  typedIn,
  type Units,
} from "../../../src/pages/bench/sheet-measures.ts";
import {
  areaWeightUnits,
  densityUnits,
  lengthUnits,
  type Measure,
} from "../../../src/rules/weave/measure.ts";

const units = fc.constantFrom<Units>("inch", "metric");
const measure = <U extends Measure["unit"]>(all: readonly U[]) =>
  fc.record({ thousandths: fc.nat(99_999_999), unit: fc.constantFrom(...all) });

const fields = { width: "length", sett: "density", "runs.0.wefts.1.weight": "area" } as const;

test("no change of units moves a figure, in whatever unit it was typed and however often", () => {
  const all = fc.tuple(measure(lengthUnits), measure(densityUnits), measure(areaWeightUnits));
  fc.assert(
    fc.property(
      all,
      fc.array(units, { minLength: 1, maxLength: 6 }),
      (measures, [first, ...more]) => {
        const names = Object.keys(fields) as (keyof typeof fields)[];
        const named = names.map((name, index) => [name, measures[index] as Measure] as const);
        const form = more.reduce<object>(
          (values, next) => inOtherUnits(values as Record<string, unknown>, next),
          measureValues(named, first as Units),
        ) as Record<string, unknown>;
        const read = names.map((name) => measureAt(form, typedIn(form), name, fields[name]));
        expect(read).toEqual(measures);
      },
    ),
  );
});

test("a figure that is typed anew is in the unit that is shown", () => {
  const form = measureValues([["width", { thousandths: 22_000, unit: "in" }]], "metric");
  expect(form.width).toBe("55.88");
  const typed = { ...form, width: "56" };
  expect(measureAt(typed, typedIn(typed), "width", "length")).toEqual({
    ...{ thousandths: 56_000, unit: "cm" },
  });
});
