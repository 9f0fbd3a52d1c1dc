import { expect, test } from "vitest";
import { checkSheet } from "../../../src/rules/weave/check-sheet.ts";
import type { WarpSheet } from "../../../src/rules/weave/sheet.ts";
import {
  buildRun,
  buildSheet,
  buildWeft,
  buildYarn,
  measure,
  pure,
} from "../../support/build-sheet.ts";

const yarn = buildYarn(3_360, pure("cotton"));
const weft = buildWeft(0, 20, 5);
const rags = { by: "area" as const, yarn: 0, weight: measure(0, "oz/sqft") };

test.each<[string, Partial<WarpSheet>]>([
  ["sett", { sett: measure(0, "per-in") }],
  ["width", { width: measure(0, "in") }],
  ["takeUp", { takeUp: 100_000 }],
  ["shrinkage", { shrinkage: -1 }],
  ["drawIn", { drawIn: 100_000 }],
  ["widthShrinkage", { widthShrinkage: 100_000 }],
  ["runs.0.name", { runs: [], sampleRun: null }],
  ["sampleRun", { sampleRun: 1 }],
  ["yarns.0.name", { yarns: [{ ...yarn, name: "" }] }],
  ["yarns.0.number", { yarns: [{ ...yarn, number: null }] }],
  ["yarns.0.number", { yarns: [{ ...yarn, number: { system: "tex", thousandths: 0, plies: 1 } }] }],
  ["yarns.0.yardage", { yarns: [{ ...yarn, yardage: { unit: "yd/lb", thousandths: 0 } }] }],
  ["yarns.0.blend", { yarns: [{ ...yarn, blend: [{ fibre: "cotton", percent: 90 }] }] }],
  ["yarns.0.price.per", { yarns: [{ ...yarn, price: { amount: 5, per: measure(0, "lb") } }] }],
  ["yarns.0.soldBy", { yarns: [{ ...yarn, soldBy: measure(0, "lb") }] }],
  ["warp.0.yarn", { warp: [{ yarn: 3, ends: null }] }],
  ["warp.0.yarn", { warp: [] }],
  ["warp.0.ends", { warp: [{ yarn: 0, ends: 0 }] }],
  [
    "warp.1.ends",
    {
      warp: [
        { yarn: 0, ends: 440 },
        { yarn: 0, ends: null },
      ],
    },
  ],
  ["runs.0.count", { runs: [buildRun(0, { loom: 36 }, [weft])] }],
  ["runs.0.length", { runs: [buildRun(1, { loom: 0 }, [weft])] }],
  ["runs.0.length", { runs: [buildRun(1, { loom: 3 }, [weft], { hems: 3 })] }],
  ["runs.0.wefts.0.yarn", { runs: [buildRun(1, { loom: 36 }, [])] }],
  ["runs.0.wefts.0.yarn", { runs: [buildRun(1, { loom: 36 }, [buildWeft(1, 20, 5)])] }],
  ["runs.0.wefts.0.picks", { runs: [buildRun(1, { loom: 36 }, [buildWeft(0, 0, 5)])] }],
  ["runs.0.wefts.0.weight", { runs: [buildRun(1, { loom: 36 }, [rags])] }],
])("%s is named", (field, more) => {
  expect(checkSheet(buildSheet(more)).map((error) => error.field)).toContain(field);
});

test("two yarns cannot both take the rest", () => {
  const warp = [
    { yarn: 0, ends: null },
    { yarn: 0, ends: null },
  ];
  expect(checkSheet(buildSheet({ warp })).map(({ field }) => field)).toEqual([
    ...["warp.0.ends", "warp.1.ends"],
  ]);
});

test("a sheet that can be worked out has no fault", () => {
  expect(checkSheet(buildSheet({}))).toEqual([]);
  const counted = buildSheet({ warp: [{ yarn: 0, ends: 400 }], floatingSelvedges: true });
  expect(checkSheet(counted)).toEqual([]);
});
