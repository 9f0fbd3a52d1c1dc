import { describe, expect, test } from "vitest";
import type { FibreEntry, FibrePart } from "../../../src/rules/labels/contents.ts";
import { fibreLabel } from "../../../src/rules/labels/fibre-label.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";
import { entries, piece, type Shares, texts } from "./support.ts";

const metallicOrnament = { metallic: { role: "ornament" } } as const;

describe("the label text in the United States", () => {
  // 16 CFR 303.3(a), 303.6(a), 303.16(a); rounding and ties are our own house rule.
  test.each<[number, Shares, string]>([
    [1, { cotton: 100 }, "100% Cotton"],
    [2, { cotton: 300, linen: 200 }, "60% Cotton, 40% Linen"],
    [3, { linen: 150, cotton: 150 }, "50% Cotton, 50% Linen"],
    [4, { cotton: 190, nylon: 10 }, "95% Cotton, 5% Nylon"],
    [5, { cotton: 191, nylon: 9 }, "96% Cotton, 4% Other Fiber"],
    [6, { cotton: 477, nylon: 23 }, "95% Cotton, 5% Other Fiber"],
    [7, { cotton: 94, silk: 3, nylon: 3 }, "94% Cotton, 6% Other Fibers"],
    [8, { cotton: 92, silk: 5, nylon: 3 }, "92% Cotton, 5% Silk, 3% Other Fiber"],
    [9, { cotton: 412, linen: 188, silk: 26, nylon: 9 }, "65% Cotton, 30% Linen, 5% Other Fibers"],
    [10, { cotton: 100, linen: 100, hemp: 100 }, "34% Cotton, 33% Hemp, 33% Linen"],
    [11, { cotton: 624, linen: 303, silk: 73 }, "63% Cotton, 30% Linen, 7% Silk"],
    [12, { cotton: 67, linen: 67, hemp: 66 }, "34% Cotton, 33% Linen, 33% Hemp"],
    [13, { cotton: 249, nylon: 1 }, "99.6% Cotton, 0.4% Other Fiber"],
    [15, { lyocell: 55, cotton: 45 }, "55% Lyocell, 45% Cotton"],
    // The Wool Act, 15 U.S.C. 68b(a)(2)(A): wool at any amount, other fibres from 5 %.
    [17, { wool: 80, nylon: 20 }, "80% Wool, 20% Nylon"],
    [18, { cotton: 97, wool: 3 }, "97% Cotton, 3% Wool"],
    [19, { cotton: 477, wool: 23 }, "95% Cotton, 5% Wool"],
    [20, { cotton: 249, wool: 1 }, "99.6% Cotton, 0.4% Wool"],
    [21, { wool: 97, silk: 3 }, "97% Wool, 3% Other Fiber"],
    // 16 CFR 300.18 and 300.19(b): speciality hair by its own name.
    [23, { wool: 60, alpaca: 40 }, "60% Wool, 40% Alpaca"],
    [24, { wool: 97, cashmere: 3 }, "97% Wool, 3% Cashmere"],
    [25, { wool: 350, mohair: 90, nylon: 60 }, "70% Wool, 18% Mohair, 12% Nylon"],
    // 16 CFR 303.6(b): the hair of other animals.
    [26, { wool: 80, "angora-rabbit": 20 }, "80% Wool, 20% Angora Rabbit Hair"],
    // 16 CFR 300.28(b) and 303.14: unknown fibres last.
    [
      27,
      { "recycled-wool": 75, "unknown-reclaimed": 25 },
      "75% Recycled Wool, 25% Unknown Reclaimed Fibers",
    ],
    [31, { cotton: 30, unknown: 70 }, "30% Cotton, 70% Unknown Fibers"],
    [32, { unknown: 100 }, "100% Unknown Fibers"],
  ])("%i: %j", (_, shares, text) => {
    expect(texts(piece(us, entries(shares)))).toEqual([text]);
  });

  test.each<[string, FibreEntry[], string]>([
    [
      "14: a functional fibre under 5% is named (303.3(a), proviso)",
      entries({ cotton: 96, spandex: 4 }, { spandex: { role: "functional" } }),
      "96% Cotton, 4% Spandex",
    ],
    [
      "22: so in wool (300.3(b), from memory)",
      entries({ wool: 98, nylon: 2 }, { nylon: { role: "functional" } }),
      "98% Wool, 2% Nylon",
    ],
    [
      "15: a trade name stands beside its generic name (303.17(a))",
      entries({ lyocell: 55, cotton: 45 }, { lyocell: { brand: " Softleaf " } }),
      "55% Lyocell (Softleaf), 45% Cotton",
    ],
    [
      "16: bamboo pulp is rayon, with its source said",
      entries({ "bamboo-rayon": 70, cotton: 30 }),
      "70% Rayon made from bamboo, 30% Cotton",
    ],
    ["16: or plain", entries({ rayon: 70, cotton: 30 }), "70% Rayon, 30% Cotton"],
    [
      "16: or viscose",
      entries({ viscose: 70, cotton: 30 }, { viscose: { madeFrom: "bamboo" } }),
      "70% Viscose made from bamboo, 30% Cotton",
    ],
    [
      "27: reclaimed fibres by their marks",
      entries(
        { wool: 75, unknown: 25 },
        { wool: { reclaimed: true }, unknown: { reclaimed: true } },
      ),
      "75% Recycled Wool, 25% Unknown Reclaimed Fibers",
    ],
    [
      "28: ornament up to 5% is left out, and said (303.26, from memory)",
      entries({ cotton: 96, metallic: 4 }, metallicOrnament),
      "100% Cotton, Exclusive of Ornamentation",
    ],
    [
      "29: more ornament counts",
      entries({ cotton: 92, metallic: 8 }, metallicOrnament),
      "92% Cotton, 8% Metallic",
    ],
    [
      "scraps (303.14)",
      entries({ scraps: 1 }),
      "Made of miscellaneous scraps of undetermined fiber content",
    ],
  ])("%s", (_, fibres, text) => {
    expect(texts(piece(us, fibres))).toEqual([text]);
  });

  test("28: the ornament may be named with its share of the other fibres (300.16)", () => {
    const fibres = entries({ cotton: 96, metallic: 4 }, metallicOrnament);
    expect(texts(piece(us, fibres, { nameOrnament: true }))).toEqual([
      "100% Cotton, Exclusive of 4% Metallic Ornamentation",
    ]);
  });

  test("wool is counted at any amount, even as an ornament", () => {
    const fibres = entries({ cotton: 97, wool: 3 }, { wool: { role: "ornament" } });
    expect(texts(piece(us, fibres))).toEqual(["97% Cotton, 3% Wool"]);
  });

  test("30: inlay up to 15% of the surface is left out, more counts (303.12(a))", () => {
    const fibres = entries({ cotton: 90, silk: 10 }, { silk: { role: "decoration" } });
    const inlay = (area?: number): FibrePart => ({ fibres, sharesAre: "weight", area });
    expect(texts(piece(us, [], { parts: [inlay(12_000)] }))).toEqual([
      "100% Cotton, Exclusive of Decoration",
    ]);
    expect(texts(piece(us, [], { parts: [inlay(15_000)] }))).toEqual([
      "100% Cotton, Exclusive of Decoration",
    ]);
    expect(texts(piece(us, [], { parts: [inlay(16_000)] }))).toEqual(["90% Cotton, 10% Silk"]);
    const { lines, refusals } = fibreLabel(piece(us, [], { parts: [inlay()] }));
    expect(lines).toEqual([]);
    expect(refusals[0]?.words).toContain("how much of the surface");
  });

  test("33: the face of a rug (303.11, from memory)", () => {
    const parts: FibrePart[] = [
      { section: "outer-surface", fibres: entries({ wool: 1 }), sharesAre: "weight" },
    ];
    expect(texts(piece(us, [], { kind: "rug", parts }))).toEqual(["Outer Surface: 100% Wool"]);
    expect(fibreLabel(piece(us, [], { kind: "shawl", parts })).refusals).toHaveLength(1);
  });

  test("34: sections one by one (303.22 and 303.25)", () => {
    const parts: FibrePart[] = [
      { section: "shell", fibres: entries({ linen: 400 }), sharesAre: "weight" },
      { section: "filling", fibres: entries({ wool: 200 }), sharesAre: "weight" },
    ];
    expect(texts(piece(us, [], { kind: "jacket", parts }))).toEqual([
      "Shell: 100% Linen",
      "Filling: 100% Wool",
    ]);
    const unnamed = parts.map((part) => ({ ...part, section: undefined }));
    expect(fibreLabel(piece(us, [], { parts: unnamed })).refusals).toHaveLength(1);
  });

  test("pile and back in the form of 303.24", () => {
    const parts: FibrePart[] = [
      { section: "pile", fibres: entries({ nylon: 40 }), sharesAre: "weight" },
      { section: "back", fibres: entries({ cotton: 60 }), sharesAre: "weight" },
    ];
    expect(texts(piece(us, [], { kind: "yardage", parts }))).toEqual([
      "100% Nylon Pile, 100% Cotton Back (Back constitutes 60% of fabric and pile 40%)",
    ]);
  });
});

describe("whether the law asks for it", () => {
  test.each([
    ["scarf", { cotton: 1 }, true],
    ["towel", { cotton: 1 }, true],
    ["bag", { cotton: 1 }, false],
    ["headwear", { cotton: 1 }, false],
    ["headwear", { wool: 1 }, true],
    ["wall-piece", { cotton: 9, alpaca: 1 }, true],
    ["placemats", { linen: 1 }, false],
  ])("%s of %j: %s", (kind, shares, required) => {
    expect(fibreLabel(piece(us, entries(shares), { kind })).duty.required).toBe(required);
  });

  test("every label says why", () => {
    const { reasons } = fibreLabel(piece(us, entries({ cotton: 97, wool: 2, nylon: 1 })));
    const sources = reasons.map(({ source }) => source).join(" ");
    for (const source of ["303.3(a)", "303.16(a)", "68b(a)(2)(A)", "70j(a)"])
      expect(sources).toContain(source);
    expect(Object.keys(reasons[0]!)).toEqual(["words", "source"]);
  });

  test("a brand carried by half of a fibre is left off, with a warning", () => {
    const fibres: FibreEntry[] = [
      { fibre: "lyocell", share: 1, brand: "Softleaf" },
      { fibre: "lyocell", share: 1 },
    ];
    const label = fibreLabel(piece(us, fibres));
    expect(label.lines[0]?.text).toBe("100% Lyocell");
    expect(label.warnings).toHaveLength(1);
  });
});
