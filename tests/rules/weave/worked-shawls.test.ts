import { expect, test } from "vitest";
import { decimalText } from "../../../src/rules/weave/measure.ts";
import { workOutSheet } from "../../../src/rules/weave/work-out.ts";
import {
  buildRun,
  buildSheet,
  buildWeft,
  buildYarn,
  inches,
  measure,
  percent,
  pure,
} from "../../support/build-sheet.ts";
import { four, workedOut } from "./support.ts";

// Examples of common practice, no source, worked with exact fractions from yarn numbers of
// ASTM D2260; prices are invented.

test("three shawls of four fibres", () => {
  const yarns = [
    buildYarn(5_040, pure("wool")),
    buildYarn(null, pure("silk"), { number: { system: "metric", thousandths: 60_000, plies: 2 } }),
    buildYarn(8_000, pure("metallic")),
    buildYarn(2_800, [
      { fibre: "wool", percent: 50 },
      { fibre: "lyocell", percent: 50 },
    ]),
  ];
  const { outcome, warpInches, need, piece } = workedOut(
    buildSheet({
      yarns,
      warp: [
        { yarn: 0, ends: null },
        { yarn: 1, ends: 32 },
        { yarn: 2, ends: 8 },
      ],
      ...{ sett: measure(20, "per-in"), width: inches(24) },
      runs: [buildRun(3, { finished: 76 }, [buildWeft(3, 18, 7)], { fringe: 7 })],
      ...{ takeUp: percent(7), shrinkage: percent(8), sampleRun: null },
      ...{ sampling: inches(12), loomWaste: inches(30) },
    }),
  );
  expect(outcome.stripes.map(({ ends }) => ends)).toEqual([440, 32, 8]);
  expect(piece(0).loom).toBe("88.8266");
  expect(warpInches).toBe("350.4797");
  expect([0, 1, 2].map((yarn) => need(yarn).warpYards)).toEqual([
    ...["4283.6403", "311.5375", "77.8844"],
  ]);
  expect([0, 1, 2].map((yarn) => need(yarn).warpPounds)).toEqual(["0.8499", "0.0209", "0.0097"]);
  const weft = outcome.runs[0]!.yarns.find(({ place }) => place === "weft")!;
  expect([four(weft.metres, "yd"), four(weft.grams, "lb")]).toEqual(["1140.5330", "0.4073"]);
  expect(piece(0).grams).toBe("301.95");
  expect(piece(0).fibres).toEqual({
    ...{ wool: "68.05", lyocell: "30.59", silk: "0.92", metallic: "0.43" },
  });
});

test("six napkins in metres and grams", () => {
  const { outcome } = workedOut(
    buildSheet({
      units: "metric",
      yarns: [
        buildYarn(null, pure("linen"), {
          number: { system: "lea", thousandths: 16_000, plies: 1 },
        }),
      ],
      ...{ sett: measure(8, "per-cm"), width: measure(50, "cm") },
      runs: [
        buildRun(6, { finished: 50 }, [buildWeft(0, 8, 6, "per-cm")], { hems: 6, unit: "cm" }),
      ],
      ...{ takeUp: percent(6), shrinkage: percent(10) },
      ...{ sampling: measure(30, "cm"), loomWaste: measure(75, "cm") },
    }),
  );
  const need = outcome.needs[0]!;
  expect(outcome.ends).toBe(400);
  expect(four(outcome.runs[0]!.loomLength, "cm")).toBe("66.1939");
  expect(four(outcome.warpLength, "cm")).toBe("502.1631");
  expect([need.warpMetres, need.weftMetres].map((one) => decimalText(one, 4))).toEqual([
    ...["2008.6525", "1811.1716"],
  ]);
  expect([need.warpGrams, need.weftGrams, need.grams].map((one) => decimalText(one, 2))).toEqual([
    ...["207.58", "187.18", "394.76"],
  ]);
});

test("ten inches that become eight off the loom ask for a quarter more, not a fifth", () => {
  // Weaving twelve and losing a fifth leaves 9.6, as a published account of weavers' sums says.
  const finished = (length: { loom: number } | { finished: number }) =>
    workOutSheet(
      buildSheet({
        runs: [buildRun(1, length, [buildWeft(0, 20, 0)])],
        takeUp: percent(20),
      }),
    ).runs[0]!;
  expect(four(finished({ loom: 12 }).finishedLength, "in")).toBe("9.6000");
  expect(four(finished({ finished: 10 }).loomLength, "in")).toBe("12.5000");
});
