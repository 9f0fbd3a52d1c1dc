import { describe, expect, test } from "vitest";
import type { FibreEntry } from "../../../src/rules/labels/contents.ts";
import { unitedKingdom as uk } from "../../../src/rules/labels/packs/eu-uk.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";
import { poolYarns } from "../../../src/rules/labels/pooling.ts";
import { entries, piece, texts } from "./support.ts";

describe("shares near a line", () => {
  test.each<[string, FibreEntry[], string]>([
    // 16 CFR 303.14: unknown fibres are said at any share, since they may hide wool (house rule).
    ["unknown", entries({ cotton: 96, unknown: 4 }), "96% Cotton, 4% Unknown Fibers"],
    // House rule: half a percent that is left over goes to the larger share, then by the alphabet.
    ["a tie", entries({ wool: 191, cotton: 9 }), "96% Wool, 4% Other Fiber"],
    // House rule: below one percent all are printed with a decimal.
    ["below one", entries({ cotton: 992, wool: 8 }), "99.2% Cotton, 0.8% Wool"],
    // 15 U.S.C. 68(c): won back from cloth, whatever was done to it before.
    [
      "reclaimed superwash",
      [
        { fibre: "superwash-wool", share: 1, reclaimed: true },
        { fibre: "recycled-wool", share: 1 },
      ],
      "100% Recycled Wool",
    ],
    // The source is said only where all of the rayon has it (Federal Trade Commission on bamboo).
    ["rayon, half of bamboo", entries({ rayon: 1, "bamboo-rayon": 1 }), "100% Rayon"],
    ["half of bamboo, rayon", entries({ "bamboo-rayon": 1, rayon: 1 }), "100% Rayon"],
  ])("%s", (_, fibres, text) => {
    expect(texts(piece(us, fibres))).toEqual([text]);
  });

  // Regulation (EU) 1007/2011, article 9(2), from memory: up to 5% each, or up to 15% together.
  test("in Europe five fibres of 4% each are lumped, and a purpose gives no name", () => {
    const five = entries({ cotton: 80, silk: 4, nylon: 4, linen: 4, hemp: 4, ramie: 4 });
    expect(texts(piece(uk, five, { smallFibres: "lumped" }))).toEqual([
      "80% Cotton, 20% Other fibres",
    ]);
    const purposeful = entries({ cotton: 96, nylon: 4 }, { nylon: { role: "functional" } });
    expect(texts(piece(uk, purposeful, { smallFibres: "lumped" }))).toEqual([
      "96% Cotton, 4% Other fibres",
    ]);
  });
});

test("a yarn whose typed shares make 99.5 weighs as much as one that makes 100", () => {
  const amount = { unit: "g" as const, thousandths: 100_000 };
  const pooled = poolYarns([
    {
      amount,
      blend: [
        { fibre: "cotton", percent: 60_000 },
        { fibre: "linen", percent: 39_500 },
      ],
    },
    { amount, blend: [{ fibre: "silk", percent: 100_000 }] },
  ]);
  if (!pooled.ok) throw new Error("The yarns are in order");
  const weigh = (all: readonly FibreEntry[]) =>
    all.reduce((sum, { share }) => sum + BigInt(share), 0n);
  const silk = pooled.value.filter(({ fibre }) => fibre === "silk");
  expect(weigh(silk) * 2n).toBe(weigh(pooled.value));
});
