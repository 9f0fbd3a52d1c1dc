import { describe, expect, test } from "vitest";
import type { FibreContents, FibrePart, Section } from "../../../src/rules/labels/contents.ts";
import { fibreLabel } from "../../../src/rules/labels/fibre-label.ts";
import { canada } from "../../../src/rules/labels/packs/canada.ts";
import { packs } from "../../../src/rules/labels/packs/index.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";
import { entries, piece, type Shares, texts } from "./support.ts";

const sources = (contents: FibreContents) =>
  fibreLabel(contents).reasons.map(({ source }) => source);

// 16 CFR 303.25: sections are listed one by one where leaving one out would mislead.
test.each<Section>(["fringe", "lining", "filling", "back"])(
  "a %s alone is not the whole piece",
  (section) => {
    const parts: FibrePart[] = [{ section, fibres: entries({ silk: 1 }), sharesAre: "weight" }];
    const { lines, refusals } = fibreLabel(piece(us, [], { parts }));
    expect(lines).toEqual([]);
    expect(refusals[0]?.words).toContain("rest of the piece");
    const both = [...parts, { ...parts[0]!, section: "body" as const }];
    expect(texts(piece(us, [], { parts: both }))).toHaveLength(2);
  },
);

test("each part is named once", () => {
  const body: FibrePart = { section: "body", fibres: entries({ silk: 1 }), sharesAre: "weight" };
  const { refusals } = fibreLabel(piece(us, [], { parts: [body, body] }));
  expect(refusals[0]?.words).toContain("each once");
});

// The form of 16 CFR 303.24 has room for one fibre each; a blend is listed by its sections.
test("a pile of two fibres on a back is listed part by part", () => {
  const parts: FibrePart[] = [
    { section: "pile", fibres: entries({ wool: 30, silk: 10 }), sharesAre: "weight" },
    { section: "back", fibres: entries({ cotton: 60 }), sharesAre: "weight" },
  ];
  expect(texts(piece(us, [], { parts }))).toEqual([
    "Pile: 75% Wool, 25% Silk",
    "Back: 100% Cotton",
  ]);
});

// 15 U.S.C. 68b(a)(2)(A): due care for wool; 16 CFR 303.43 (from memory): three points for others.
describe("how far a share may be off", () => {
  test.each<[string, Shares, string, string]>([
    ["scarf", { cotton: 97, wool: 3 }, "68b(a)(2)(A); that rugs", "303.43"],
    ["scarf", { alpaca: 60, silk: 40 }, "68b(a)(2)(A); that rugs", "303.43"],
    ["scarf", { cotton: 60, silk: 40 }, "303.43", "that rugs"],
    ["rug", { wool: 100 }, "303.43", "that rugs"],
  ])("a %s of %j", (kind, shares, told, untold) => {
    const all = sources(piece(us, entries(shares), { kind })).join("; ");
    expect(all).toContain(told);
    expect(all).not.toContain(untold);
  });

  test("Canada has one for blends and none of its own for wool", () => {
    const { reasons } = fibreLabel(piece(canada, entries({ wool: 80, nylon: 20 })));
    expect(reasons.map(({ words }) => words).join()).toContain("5 points");
  });
});

// 15 U.S.C. 70j(a) leaves sewing thread out; elsewhere a house rule.
test("every label says that sewing thread is not counted", () => {
  for (const pack of packs) {
    const { reasons } = fibreLabel(piece(pack, entries({ cotton: 1 })));
    expect(reasons.map(({ words }) => words).join()).toContain("sewing thread");
  }
});

describe("what is left out and said", () => {
  // The sample of 16 CFR 300.16; its 4 % is of the other fibres' weight.
  test("70% Recycled Wool, 30% Acetate, Exclusive of 4% Metallic Ornamentation", () => {
    const fibres = entries(
      { "recycled-wool": 70, acetate: 30, metallic: 4 },
      { metallic: { role: "ornament" } },
    );
    expect(texts(piece(us, fibres, { nameOrnament: true }))).toEqual([
      "70% Recycled Wool, 30% Acetate, Exclusive of 4% Metallic Ornamentation",
    ]);
  });

  // 16 CFR 303.12(b).
  test.each([
    [20_000, "100% Cotton, Exclusive of Elastic"],
    [20_001, "90% Cotton, 10% Rubber"],
  ])("elastic over %i thousandths of a percent of the surface", (area, text) => {
    const fibres = entries({ cotton: 90, rubber: 10 }, { rubber: { role: "elastic" } });
    const parts: FibrePart[] = [{ fibres, sharesAre: "weight", area }];
    expect(texts(piece(us, [], { parts }))).toEqual([text]);
  });

  // 16 CFR 303.26, from memory: up to five percent, here of the other fibres, the stricter reading.
  test.each([
    [{ cotton: 100, metallic: 5 }, "100% Cotton, Exclusive of Ornamentation"],
    [{ cotton: 99, metallic: 5 }, "95% Cotton, 5% Other Fiber"],
    [{ cotton: 94, metallic: 6 }, "94% Cotton, 6% Metallic"],
  ])("ornament of %j", (shares, text) => {
    const fibres = entries(shares, { metallic: { role: "ornament" } });
    expect(texts(piece(us, fibres))).toEqual([text]);
  });
});

// Regulation (EU) 1007/2011, article 9(3), from memory, has the name; other laws have none.
test("the cotton linen union is a fact that goes unsaid where the law has no name for it", () => {
  for (const pack of packs.filter(({ fibre }) => fibre.union === null)) {
    const parts: FibrePart[] = [
      {
        fibres: entries({ cotton: 60, linen: 40 }),
        sharesAre: "weight",
        cottonWarpLinenWeft: true,
      },
    ];
    const label = fibreLabel(piece(pack, [], { parts }));
    expect(label.refusals).toEqual([]);
    expect(label.lines).toHaveLength(1);
    expect(label.lines[0]?.text).not.toMatch(/union|warp|métis/i);
  }
});

test("a candle without fibres is neither asked for them nor labelled; with a cotton cover it is", () => {
  for (const kind of ["candle", "soap"]) {
    const label = fibreLabel(piece(us, [], { kind }));
    expect(label).toMatchObject({ lines: [], refusals: [], reasons: [] });
    expect(label.duty.required).toBe(false);
    expect(texts(piece(us, entries({ cotton: 1 }), { kind }))).toEqual(["100% Cotton"]);
  }
  expect(fibreLabel(piece(us, [])).refusals).toHaveLength(1);
});
