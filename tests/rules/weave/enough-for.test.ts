import fc from "fast-check";
import { expect, test } from "vitest";
import { fraction, isLess, times } from "../../../src/rules/fraction.ts";
import { inBase } from "../../../src/rules/weave/measure.ts";
import type { WarpSheet } from "../../../src/rules/weave/sheet.ts";
import { workOutSheet } from "../../../src/rules/weave/work-out.ts";
import {
  buildRun,
  buildSheet,
  buildWeft,
  buildYarn,
  inches,
  measure,
  pure,
} from "../../support/build-sheet.ts";

const towels = (more: Partial<WarpSheet> = {}) =>
  buildSheet({
    runs: [buildRun(2, { loom: 36 }, [buildWeft(0, 20, 5)])],
    ...{ sampling: inches(12), loomWaste: inches(30) },
    ...more,
  });

const fromWarp = (have: number, more: Partial<WarpSheet> = {}) =>
  workOutSheet(towels({ haveWarp: inches(have), ...more })).runs[0]!.fromWarp;

test("seven towels of 36 inches want 294 inches of warp, as a working weaver counts", () => {
  expect(fromWarp(294)).toBe(7);
  expect(fromWarp(293.999)).toBe(6);
  expect(fromWarp(40)).toBe(0);
});

test("gaps stand only between pieces", () => {
  const gap = inches(4);
  expect(fromWarp(12 + 30 + 36, { gap })).toBe(1);
  expect(fromWarp(12 + 30 + 36 + 4 + 36, { gap })).toBe(2);
  expect(fromWarp(12 + 30 + 36 + 4 + 35, { gap })).toBe(1);
});

test("without a word on what is there, nothing is said", () => {
  const [run] = workOutSheet(towels()).runs;
  expect(run).toMatchObject({ fromWarp: null, fromYarn: null });
});

test("the yarn that ends first decides", () => {
  const sheet = towels({
    yarns: [
      buildYarn(3_360, pure("cotton"), { have: measure(5, "lb") }),
      buildYarn(3_360, pure("linen"), { have: measure(2, "oz") }),
    ],
    runs: [buildRun(1, { loom: 36 }, [buildWeft(1, 20, 5)])],
  });
  // A towel takes 462 yd of weft, 2.2 oz, and the sample 154 yd.
  expect(workOutSheet(sheet).runs[0]!.fromYarn).toBe(0);
  sheet.yarns[1]!.have = measure(2.94, "oz");
  expect(workOutSheet(sheet).runs[0]!.fromYarn).toBe(1);
});

test("so many pieces take no more than there is, and one more would", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 200, max: 9_000 }),
      fc.integer({ min: 0, max: 6 }),
      fc.integer({ min: 0, max: 8 }),
      (grams, gap, fringe) => {
        const have = measure(grams, "g");
        const of = (count: number) =>
          workOutSheet(
            towels({
              yarns: [buildYarn(3_360, pure("cotton"), { have })],
              runs: [buildRun(count, { finished: 30 }, [buildWeft(0, 20, 5)], { fringe })],
              gap: inches(gap),
            }),
          );
        const pieces = of(1).runs[0]!.fromYarn!;
        const over = (count: number) => isLess(inBase(have), of(count).needs[0]!.grams);
        if (pieces > 0) expect(over(pieces)).toBe(false);
        expect(over(pieces + 1)).toBe(true);
      },
    ),
  );
});

test("what to buy is what is missing, in whole cones", () => {
  const need = (have: number) =>
    workOutSheet(
      towels({
        yarns: [
          buildYarn(3_360, pure("cotton"), {
            ...{ have: measure(have, "g"), soldBy: measure(8, "oz") },
          }),
        ],
      }),
    ).needs[0]!;
  // Two towels, sample and waste.
  expect(need(0).buyGrams).toEqual(need(0).grams);
  expect(need(0).buyCones).toBe(2);
  expect(need(1_000)).toMatchObject({ buyCones: 0, buyGrams: fraction(0) });
});

test("materials of all pieces together are the cost of all yarn, to the last fraction", () => {
  const counts = fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 3 });
  fc.assert(
    fc.property(counts, fc.integer({ min: 1, max: 9_999 }), (runs, amount) => {
      const price = { amount, per: measure(1, "lb") };
      const outcome = workOutSheet(
        towels({
          yarns: [buildYarn(3_360, pure("cotton"), { price })],
          runs: runs.map((count, index) =>
            buildRun(count, { finished: 20 + index * 7 }, [buildWeft(0, 18 + index, 5)]),
          ),
        }),
      );
      const all = outcome.runs.map(({ making }) =>
        times(fraction(making.pieces), making.materials),
      );
      const sum = all.reduce((one, other) => ({
        top: one.top * other.bottom + other.top * one.bottom,
        bottom: one.bottom * other.bottom,
      }));
      expect(fraction(sum.top, sum.bottom)).toEqual(outcome.totalCost);
    }),
  );
});
