import { describe, expect, test } from "vitest";
import { fibreLabel } from "../../../src/rules/labels/fibre-label.ts";
import type { FibreCode } from "../../../src/rules/labels/fibres.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";
import {
  type BlendFibre,
  gramsOf,
  poolYarns,
  type YarnAmount,
  type YarnUse,
} from "../../../src/rules/labels/pooling.ts";
import {
  gramsPerMetre,
  type YarnNumber,
  type YarnSystem,
} from "../../../src/rules/weave/yarn-number.ts";
import { piece } from "./support.ts";

const blend = (shares: Partial<Record<FibreCode, number>>): BlendFibre[] =>
  Object.entries(shares).map(([fibre, percent]) => ({
    fibre: fibre as FibreCode,
    percent: percent * 1_000,
  }));

const count = (system: YarnSystem, figure: number, plies = 1): YarnNumber => ({
  system,
  thousandths: Math.trunc(figure * 1_000),
  plies,
});

/** Yards to the nearest thousandth, as worked out in the example. */
const yards = (length: number, number: YarnNumber): YarnAmount => ({
  unit: "yd",
  thousandths: Math.trunc(length * 1_000),
  number,
});

const nearest = (top: bigint, bottom: bigint) => Number((top * 2n + bottom) / (bottom * 2n));

function pooled(...yarns: YarnUse[]) {
  const result = poolYarns(yarns);
  if (!result.ok) throw new Error(JSON.stringify(result.problem));
  const total = result.value.reduce((sum, { share }) => sum + BigInt(share), 0n);
  return {
    /** Hundredths of a percent, to the nearest. */
    shares: Object.fromEntries(
      result.value.map(({ fibre, share }) => [fibre, nearest(BigInt(share) * 10_000n, total)]),
    ),
    label: fibreLabel(piece(us, result.value)).lines[0]?.text,
  };
}

const cotton82 = count("cotton", 8, 2);
const cottolin = count("lea", 22, 2);

// Worked with exact fractions from published yarn numbers (ASTM D2260); common practice, no source.
describe("fibres worked out from the yarns of a piece", () => {
  test("a towel of cotton warp and cottolin weft", () => {
    const { shares, label } = pooled(
      { amount: yards(440, cotton82), blend: blend({ cotton: 100 }) },
      { amount: yards(462, cottolin), blend: blend({ cotton: 60, linen: 40 }) },
    );
    expect(shares).toEqual({ cotton: 7_933, linen: 2_067 });
    expect(label).toBe("79% Cotton, 21% Linen");
  });

  test("the same warp with a linen weft is another label", () => {
    const { shares, label } = pooled(
      { amount: yards(440, cotton82), blend: blend({ cotton: 100 }) },
      { amount: yards(415.8, count("lea", 16, 2)), blend: blend({ linen: 100 }) },
    );
    expect(shares).toEqual({ cotton: 4_305, linen: 5_695 });
    expect(label).toBe("57% Linen, 43% Cotton");
  });

  test("two scarves of one silk and lyocell warp", () => {
    // 300 ends of 83.2562 + 16 inches.
    const warp: YarnUse = {
      amount: yards(827.135, count("yards-per-pound", 8_400)),
      blend: blend({ silk: 50, lyocell: 50 }),
    };
    const silk = pooled(warp, {
      amount: yards(699.3525, count("yards-per-pound", 12_600)),
      blend: blend({ silk: 100 }),
    });
    expect(silk.shares).toEqual({ silk: 6_802, lyocell: 3_198 });
    expect(silk.label).toBe("68% Silk, 32% Lyocell");
    const lyocell = pooled(warp, {
      amount: yards(599.445, count("cotton", 10, 2)),
      blend: blend({ lyocell: 100 }),
    });
    expect(lyocell.shares).toEqual({ silk: 2_041, lyocell: 7_959 });
    expect(lyocell.label).toBe("80% Lyocell, 20% Silk");
  });

  test("a rag rug: weighed rags beside a measured warp", () => {
    // 360 ends of 66.6667 + 12 inches of 8/4 cotton, and 62.5 ounces of rag.
    const { shares, label } = pooled(
      { amount: yards(786.667, count("cotton", 8, 4)), blend: blend({ cotton: 100 }) },
      { amount: { unit: "oz", thousandths: 62_500 }, blend: blend({ unknown: 100 }) },
    );
    expect(shares).toEqual({ cotton: 1_070, unknown: 8_930 });
    expect(label).toBe("11% Cotton, 89% Unknown Fibers");
  });

  test("placemats and a runner off one warp have one label", () => {
    // 240 ends and 14 picks, 15 inches wide, a weft 6 % longer: by the woven inch.
    for (const inches of [23.5162, 57.1109]) {
      const { shares, label } = pooled(
        {
          amount: yards((240 * inches) / 36, count("cotton", 5, 2)),
          blend: blend({ cotton: 100 }),
        },
        {
          amount: yards((14 * 15 * inches * 1.06) / 36, cottolin),
          blend: blend({ cotton: 60, linen: 40 }),
        },
      );
      expect(shares).toEqual({ cotton: 8_515, linen: 1_485 });
      expect(label).toBe("85% Cotton, 15% Linen");
    }
  });

  test("a shawl of four fibres keeps the traces together", () => {
    const length = (88.8266 + 14) / 36;
    const { shares, label } = pooled(
      { amount: yards(440 * length, count("worsted", 18, 2)), blend: blend({ wool: 100 }) },
      { amount: yards(32 * length, count("metric", 60, 2)), blend: blend({ silk: 100 }) },
      {
        amount: yards(8 * length, count("yards-per-pound", 8_000)),
        blend: blend({ metallic: 100 }),
      },
      {
        amount: yards(1_140.533, count("worsted", 10, 2)),
        blend: blend({ wool: 50, lyocell: 50 }),
      },
    );
    expect(shares).toEqual({ wool: 6_805, silk: 92, metallic: 43, lyocell: 3_059 });
    expect(label).toBe("68% Wool, 31% Lyocell, 1% Other Fibers");
  });
});

describe("yarn numbers", () => {
  // Metres per kilogram and tex as in tables made from ASTM D2260 and ISO 1144.
  test.each<[YarnNumber, number]>([
    [count("cotton", 8, 2), 14_764],
    [count("lea", 16, 1), 10_334],
    [count("worsted", 18, 2), 9_842],
    [count("metric", 60, 2), 3_333],
    [count("run", 2.25, 2), 27_559],
    [count("cut", 300, 1), 551],
    [count("tex", 30, 2), 6_000],
    [count("denier", 9, 1), 100],
    [count("dtex", 167, 1), 1_670],
    [count("metres-per-kilogram", 10_000), 10_000],
    [count("yards-per-pound", 3_360), 14_764],
  ])("%j is %i hundredths of a tex", (number, tex) => {
    const { top, bottom } = gramsPerMetre(number);
    expect(nearest(top * 100_000n, bottom)).toBe(tex);
  });

  test("a pound is 453.59237 grams and an ounce a sixteenth of it", () => {
    expect(gramsOf({ unit: "lb", thousandths: 1_000 })).toEqual({
      top: 45_359_237n,
      bottom: 100_000n,
    });
    const { top, bottom } = gramsOf({ unit: "oz", thousandths: 16_000 });
    expect(top * 100_000n).toBe(45_359_237n * bottom);
  });
});

test("equal fibres are pooled, marked ones stay apart until the label", () => {
  const marked: BlendFibre = { fibre: "lyocell", percent: 100_000, brand: "Softleaf" };
  const result = poolYarns([
    { amount: { unit: "g", thousandths: 50_000 }, blend: blend({ lyocell: 100 }) },
    { amount: { unit: "g", thousandths: 25_000 }, blend: [marked] },
    { amount: { unit: "g", thousandths: 25_000 }, blend: [marked] },
  ]);
  expect(result.ok && result.value).toEqual([
    { fibre: "lyocell", share: 1n },
    { fibre: "lyocell", brand: "Softleaf", share: 1n },
  ]);
});

test.each<[string, YarnUse[], string]>([
  ["no yarn", [], "yarns"],
  [
    "no weight",
    [{ amount: { unit: "g", thousandths: 0 }, blend: blend({ silk: 100 }) }],
    "yarns.0.amount",
  ],
  [
    "no plies",
    [{ amount: yards(1, count("cotton", 8, 0)), blend: blend({ silk: 100 }) }],
    "yarns.0.number",
  ],
  ["no blend", [{ amount: { unit: "g", thousandths: 1 }, blend: [] }], "yarns.0.blend"],
  [
    "a blend of 90",
    [{ amount: { unit: "g", thousandths: 1 }, blend: blend({ silk: 90 }) }],
    "yarns.0.blend",
  ],
])("%s is refused beside its field", (_, yarns, field) => {
  const result = poolYarns(yarns);
  expect(!result.ok && result.problem.errors.map((error) => error.field)).toEqual([field]);
});
