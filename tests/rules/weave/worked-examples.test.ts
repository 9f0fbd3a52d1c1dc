import { expect, test } from "vitest";
import { decimalText } from "../../../src/rules/weave/measure.ts";
import {
  buildRun,
  buildSheet,
  buildWeft,
  buildYarn,
  inches,
  measure,
  percent,
  pricedByPound,
  pure,
} from "../../support/build-sheet.ts";
import { coins, four, workedOut } from "./support.ts";

// Examples of common practice, no source, worked with exact fractions from yarn numbers of
// ASTM D2260; prices are invented.

const cottolinBlend = [
  { fibre: "cotton", percent: 60 },
  { fibre: "linen", percent: 40 },
];

test("a working weaver's seven towels", () => {
  const { outcome, warpInches, need } = workedOut(
    buildSheet({
      runs: [buildRun(7, { loom: 36 }, [buildWeft(0, 20, 5)])],
      sampling: inches(12),
      loomWaste: inches(30),
    }),
  );
  expect(outcome.ends).toBe(440);
  expect(warpInches).toBe("294.0000");
  expect(need(0)).toMatchObject({
    ...{ warpYards: "3593.3333", warpPounds: "1.0694" },
    ...{ weftYards: "3388.0000", weftPounds: "1.0083" },
  });
  expect(decimalText(outcome.totalGrams, 2)).toBe("942.46");
});

test("six dish towels", () => {
  const sheet = buildSheet({
    yarns: [buildYarn(3_360, pure("cotton"), pricedByPound(2_200))],
    runs: [
      buildRun(6, { loom: 34 }, [buildWeft(0, 20, 5)], { hems: 3, weaving: 60, finishing: 30 }),
    ],
    ...{
      takeUp: percent(5),
      shrinkage: percent(8),
      drawIn: percent(5),
      widthShrinkage: percent(7),
    },
    ...{ sampling: inches(12), loomWaste: inches(30), setUp: 360 },
  });
  const { outcome, warpInches, need, piece } = workedOut(sheet);
  expect(outcome.ends).toBe(440);
  expect(warpInches).toBe("246.0000");
  expect(four(outcome.warpLength, "yd")).toBe("6.8333");
  expect(need(0)).toEqual({
    ...{ warpYards: "3006.6667", warpPounds: "0.8948", warpGrams: "405.89" },
    ...{ weftYards: "2772.0000", weftPounds: "0.8250", weftGrams: "374.21" },
  });
  expect(four(outcome.totalGrams, "lb")).toBe("1.7198");
  expect(decimalText(outcome.totalGrams, 2)).toBe("780.11");
  expect(coins(outcome.totalCost)).toBe("37.8365");
  expect(piece(0)).toMatchObject({ grams: "115.00", materials: "6.3061" });
  const [towel] = outcome.runs;
  expect(towel?.picks).toBe(680);
  expect(four(towel!.grams, "lb")).toBe("0.2535");
  expect(four(towel!.finishedLength, "in")).toBe("26.7160");
  expect(four(towel!.finishedWidth, "in")).toBe("19.4370");
  // 115.00 g on 0.6786 m by 0.4937 m of finished cloth.
  expect(decimalText(towel!.gramsPerSquareMetre, 2)).toBe("343.27");
  const { setUpMinutes, weavingMinutes, finishingMinutes } = towel!.making;
  expect(
    [setUpMinutes, weavingMinutes, finishingMinutes].map((one) => decimalText(one, 0)),
  ).toEqual(["60", "60", "30"]);
});

test("one warp, two wefts, two labels", () => {
  const yarns = [
    buildYarn(3_360, pure("cotton")),
    buildYarn(3_300, cottolinBlend),
    buildYarn(2_400, pure("linen")),
  ];
  const runs = [
    buildRun(1, { loom: 36 }, [buildWeft(1, 20, 5)]),
    buildRun(1, { loom: 36 }, [buildWeft(2, 18, 5)]),
  ];
  const { outcome, piece } = workedOut(buildSheet({ yarns, runs }));
  const pounds = outcome.runs.map(({ yarns: inPiece }) =>
    inPiece.map(({ grams }) => four(grams, "lb")),
  );
  // The linen weighs 0.17325 lb exactly; the example's list cuts that half off.
  expect(pounds).toEqual([
    ["0.1310", "0.1400"],
    ["0.1310", "0.1733"],
  ]);
  expect(piece(0).fibres).toEqual({ cotton: "79.33", linen: "20.67" });
  expect(piece(1).fibres).toEqual({ cotton: "43.05", linen: "56.95" });
});

test("two scarves of one silk and lyocell warp, finished length: divide, do not add", () => {
  const sheet = buildSheet({
    yarns: [
      buildYarn(
        8_400,
        [
          { fibre: "silk", percent: 50 },
          { fibre: "lyocell", percent: 50 },
        ],
        pricedByPound(12_000),
      ),
      buildYarn(12_600, pure("silk"), pricedByPound(14_000)),
      buildYarn(4_200, pure("lyocell"), pricedByPound(4_000)),
    ],
    ...{ sett: measure(30, "per-in"), width: inches(10) },
    runs: [
      buildRun(1, { finished: 72 }, [buildWeft(1, 28, 8)], { fringe: 8 }),
      buildRun(1, { finished: 72 }, [buildWeft(2, 24, 8)], { fringe: 8 }),
    ],
    ...{ takeUp: percent(8), shrinkage: percent(6), sampling: inches(9), loomWaste: inches(27) },
    sampleRun: null,
  });
  const { outcome, warpInches, need, piece } = workedOut(sheet);
  expect(outcome.ends).toBe(300);
  expect(piece(0).loom).toBe("83.2562");
  expect(warpInches).toBe("234.5125");
  expect(four(outcome.warpLength, "yd")).toBe("6.5142");
  expect(need(0)).toMatchObject({
    ...{ warpYards: "1954.2707", warpPounds: "0.2327", warpGrams: "105.53" },
  });
  expect(need(1)).toMatchObject({
    weftYards: "699.3525",
    weftPounds: "0.0555",
    weftGrams: "25.18",
  });
  expect(need(2)).toMatchObject({
    weftYards: "599.4450",
    weftPounds: "0.1427",
    weftGrams: "64.74",
  });
  const inScarf = outcome.runs[0]!.yarns[0]!.grams;
  expect([four(inScarf, "lb"), decimalText(inScarf, 2)]).toEqual(["0.0985", "44.66"]);
  expect(piece(0)).toMatchObject({
    ...{ grams: "69.84", materials: "21.7297", fibres: { silk: "68.02", lyocell: "31.98" } },
  });
  expect(piece(1)).toMatchObject({
    ...{ grams: "109.40", materials: "19.6681", fibres: { silk: "20.41", lyocell: "79.59" } },
  });
});

test("a rag rug, its weft weighed by the area", () => {
  const strips = {
    ...{ picks: measure(5, "per-in"), extra: percent(5) },
    ...{ width: inches(1.5), cloth: inches(44) },
  };
  const sheet = buildSheet({
    yarns: [buildYarn(1_680, pure("cotton")), buildYarn(null, pure("unknown"))],
    ...{ sett: measure(12, "per-in"), width: inches(30) },
    runs: [
      buildRun(
        1,
        { finished: 60 },
        [{ by: "area", yarn: 1, weight: measure(5, "oz/sqft"), strips }],
        { fringe: 6 },
      ),
    ],
    ...{ takeUp: percent(10), loomWaste: inches(36) },
  });
  const { outcome, warpInches, need, piece } = workedOut(sheet);
  expect(outcome.ends).toBe(360);
  expect(piece(0).loom).toBe("66.6667");
  expect(warpInches).toBe("114.6667");
  expect(need(0)).toMatchObject({
    ...{ warpYards: "1146.6667", warpPounds: "0.6825", warpGrams: "309.59" },
  });
  const [rug] = outcome.runs;
  const [warp, rags] = rug!.yarns;
  expect(four(warp!.grams, "lb")).toBe("0.4683");
  expect([four(rags!.grams, "oz"), four(rags!.grams, "lb")]).toEqual(["62.5000", "3.9063"]);
  expect(rug?.picks).toBe(333);
  expect(decimalText(rug!.strips!.metres, 4)).toBe("266.7000");
  expect(four(rug!.strips!.metres, "yd")).toBe("291.6667");
  expect(four(rug!.strips!.clothMetres, "yd")).toBe("10.0575");
  expect(piece(0).fibres).toEqual({ cotton: "10.70", unknown: "89.30" });
});

test("four placemats and a runner share a warp by their woven length", () => {
  const weft = [buildWeft(1, 14, 6)];
  const sheet = buildSheet({
    yarns: [buildYarn(2_100, pure("cotton")), buildYarn(3_300, cottolinBlend)],
    ...{ sett: measure(16, "per-in"), width: inches(15) },
    runs: [
      buildRun(4, { finished: 18 }, weft, { hems: 3 }),
      buildRun(1, { finished: 48 }, weft, { hems: 3 }),
    ],
    ...{ takeUp: percent(5), shrinkage: percent(6) },
    ...{ sampling: inches(10), loomWaste: inches(30), setUp: 360 },
  });
  const { outcome, warpInches, need, piece } = workedOut(sheet);
  expect(outcome.ends).toBe(240);
  expect([piece(0).loom, piece(1).loom]).toEqual(["23.5162", "57.1109"]);
  expect(four(outcome.wovenLength, "in")).toBe("151.1758");
  expect(warpInches).toBe("191.1758");
  expect(four(outcome.warpLength, "yd")).toBe("5.3104");
  expect(need(0)).toMatchObject({
    ...{ warpYards: "1274.5054", warpPounds: "0.6069", warpGrams: "275.29" },
  });
  expect(need(1)).toMatchObject({
    weftYards: "996.6038",
    weftPounds: "0.3020",
    weftGrams: "136.99",
  });
  const fibres = { cotton: "85.15", linen: "14.85" };
  expect(piece(0)).toMatchObject({ grams: "53.85", share: "0.1556", fibres });
  expect(piece(1)).toMatchObject({ grams: "130.78", share: "0.3778", fibres });
  // Six hours of setting up: with 3.7333 and 4.2667 hours of the price table's weaving, 56 and 136 minutes.
  const minutes = outcome.runs.map(({ making }) => decimalText(making.setUpMinutes, 4));
  expect(minutes).toEqual(["56.0000", "136.0000"]);
});

test("a wool blanket", () => {
  const { outcome, warpInches, need, piece } = workedOut(
    buildSheet({
      yarns: [buildYarn(1_800, pure("wool"), pricedByPound(3_600))],
      ...{ sett: measure(10, "per-in"), width: inches(60) },
      runs: [buildRun(1, { finished: 72 }, [buildWeft(0, 10, 5)], { fringe: 5 })],
      ...{ takeUp: percent(8), shrinkage: percent(18), drawIn: percent(7) },
      ...{ widthShrinkage: percent(18), sampling: inches(18), loomWaste: inches(36) },
    }),
  );
  expect(outcome.ends).toBe(600);
  expect(piece(0)).toMatchObject({ loom: "95.4401", grams: "863.72" });
  expect(warpInches).toBe("159.4401");
  expect(four(outcome.warpLength, "yd")).toBe("4.4289");
  expect(need(0)).toEqual({
    ...{ warpYards: "2657.3347", warpPounds: "1.4763", warpGrams: "669.64" },
    ...{ weftYards: "1985.2015", weftPounds: "1.1029", weftGrams: "500.26" },
  });
  expect(four(outcome.totalGrams, "lb")).toBe("2.5792");
  // With three more for what is not yarn, this is the 95.8507 of the price table.
  expect(piece(0).materials).toBe("92.8507");
  const [blanket] = outcome.runs;
  expect(four(blanket!.grams, "lb")).toBe("1.9042");
  expect(four(blanket!.widthOffLoom, "in")).toBe("55.8000");
  expect(four(blanket!.finishedWidth, "in")).toBe("45.7560");
});
