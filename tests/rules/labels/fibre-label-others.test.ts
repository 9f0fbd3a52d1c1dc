import { describe, expect, test } from "vitest";
import type { FibreEntry, FibrePart } from "../../../src/rules/labels/contents.ts";
import { fibreLabel } from "../../../src/rules/labels/fibre-label.ts";
import { australia } from "../../../src/rules/labels/packs/australia.ts";
import { canada } from "../../../src/rules/labels/packs/canada.ts";
import { europeanUnion as eu, unitedKingdom as uk } from "../../../src/rules/labels/packs/eu-uk.ts";
import { spanish } from "../../../src/rules/labels/words/spanish.ts";
import { entries, piece, type Shares, texts } from "./support.ts";

describe("Canada, in both languages (C.R.C., c. 1551)", () => {
  test("a fibre under 5% may be named or lumped, as the guild chooses", () => {
    const contents = piece(canada, entries({ cotton: 97, spandex: 3 }));
    expect(texts(contents)).toEqual(["97% Cotton / Coton, 3% Spandex / Spandex"]);
    expect(texts({ ...contents, smallFibres: "lumped" })).toEqual([
      "97% Cotton / Coton, 3% Other fibre / Autre fibre",
    ]);
  });

  test.each<[Shares, string]>([
    [{ cotton: 60, linen: 40 }, "60% Cotton / Coton, 40% Linen / Lin"],
    [{ "bamboo-rayon": 100 }, "100% Rayon from bamboo / Rayonne de bambou"],
    [{ cotton: 11, unknown: 89 }, "11% Cotton / Coton, 89% Unknown fibres / Fibres inconnues"],
    [{ cotton: 249, wool: 1 }, "99.6% Cotton / Coton, 0.4% Wool / Laine"],
  ])("%j", (shares, text) => {
    expect(texts(piece(canada, entries(shares)))).toEqual([text]);
  });

  test("several lumped fibres are plural, sections have both names", () => {
    const contents = piece(canada, [], {
      smallFibres: "lumped",
      parts: [
        { section: "body", fibres: entries({ wool: 94, silk: 3, nylon: 3 }), sharesAre: "weight" },
        { section: "fringe", fibres: entries({ silk: 1 }), sharesAre: "weight" },
      ],
    });
    expect(texts(contents)).toEqual([
      "Body / Corps: 94% Wool / Laine, 6% Other fibres / Autres fibres",
      "Fringe / Franges: 100% Silk / Soie",
    ]);
  });

  test("one language is a choice to be warned about", () => {
    const both = fibreLabel(piece(canada, entries({ wool: 1 })));
    expect(both.warnings).toEqual([]);
    expect(both.lines[0]?.languages).toEqual(["en-GB", "fr"]);
    const one = fibreLabel(piece(canada, entries({ wool: 1 }), { languages: ["fr"] }));
    expect(one.lines[0]?.text).toBe("100 % Laine");
    expect(one.warnings[0]?.words).toContain("English and French");
    expect(fibreLabel(piece(canada, entries({ wool: 1 }), { languages: ["de"] })).lines).toEqual(
      [],
    );
  });
});

describe("European Union and United Kingdom (Regulation (EU) 1007/2011)", () => {
  test.each<[string, FibreEntry[], string]>([
    // Article 9 and Annex I, from memory: every fibre named, by the Annex's names.
    ["nylon", entries({ cotton: 191, nylon: 9 }), "96% Cotton, 4% Polyamide"],
    ["rayon", entries({ rayon: 70, cotton: 30 }), "70% Viscose, 30% Cotton"],
    ["spandex", entries({ cotton: 96, spandex: 4 }), "96% Cotton, 4% Elastane"],
    ["bamboo", entries({ "bamboo-rayon": 1 }), "100% Viscose"],
    [
      "all small fibres",
      entries({ cotton: 94, silk: 3, nylon: 3 }),
      "94% Cotton, 3% Polyamide, 3% Silk",
    ],
    [
      "reclaimed and new wool by one name",
      entries({ wool: 50, "recycled-wool": 25, "superwash-wool": 25 }),
      "100% Wool",
    ],
    [
      "ornament up to 7% left out (article 10, from memory)",
      entries({ cotton: 93, metallic: 7 }, { metallic: { role: "ornament" } }),
      "100% Cotton",
    ],
    [
      "more ornament counted",
      entries({ cotton: 92, metallic: 8 }, { metallic: { role: "ornament" } }),
      "92% Cotton, 8% Metallic fibre",
    ],
    [
      "threads against static up to 2% left out",
      entries({ wool: 98, metallic: 2 }, { metallic: { role: "antistatic" } }),
      "100% Wool",
    ],
  ])("%s", (_, fibres, text) => {
    expect(texts(piece(uk, fibres))).toEqual([text]);
    expect(texts(piece(eu, fibres, { languages: ["en-GB"] }))).toEqual([text]);
  });

  test("each language has its own line, numbers and names", () => {
    expect(texts(piece(eu, entries({ cotton: 249, wool: 1 })))).toEqual([
      "99.6% Cotton, 0.4% Wool",
      "99,6 % Coton, 0,4 % Laine",
      "99,6 % Algodón, 0,4 % Lana",
      "99,6 % Baumwolle, 0,4 % Wolle",
    ]);
  });

  test("fibres hard to state are lumped up to 5% each or 15% together (article 9(2))", () => {
    const lumped = (shares: Shares) =>
      fibreLabel(piece(uk, entries(shares), { smallFibres: "lumped" }));
    const small = lumped({ cotton: 88, silk: 4, nylon: 4, linen: 4 });
    expect(small.lines[0]?.text).toBe("88% Cotton, 12% Other fibres");
    expect(small.warnings[0]?.words).toContain("cannot easily be stated");
    expect(lumped({ cotton: 85, other: 15 }).lines).toHaveLength(1);
    expect(lumped({ cotton: 84, other: 16 }).refusals).toHaveLength(1);
  });

  test("cotton linen union needs pure yarns and 40% linen (article 9(3))", () => {
    const union = (shares: Shares) =>
      fibreLabel(
        piece(uk, [], {
          parts: [{ fibres: entries(shares), sharesAre: "weight", cottonWarpLinenWeft: true }],
        }),
      );
    expect(union({ cotton: 60, linen: 40 }).lines.map(({ text }) => text)).toEqual([
      "60% Cotton, 40% Linen",
      "Cotton linen union (pure cotton warp - pure linen weft)",
    ]);
    expect(union({ cotton: 61, linen: 39 }).lines).toEqual([]);
    expect(union({ cotton: 50, linen: 45, silk: 5 }).lines).toEqual([]);
    expect(union({ linen: 100 }).lines).toEqual([]);
  });

  test("parts of animals are said (article 12)", () => {
    expect(texts(piece(uk, entries({ wool: 1 }), { animalParts: true }))).toEqual([
      "100% Wool",
      "Contains non-textile parts of animal origin",
    ]);
  });

  test("sections in French have a space before their colon", () => {
    const parts: FibrePart[] = [
      { section: "shell", fibres: entries({ linen: 1 }), sharesAre: "weight" },
      { section: "lining", fibres: entries({ silk: 1 }), sharesAre: "weight" },
    ];
    expect(texts(piece(eu, [], { parts, languages: ["fr"] }))).toEqual([
      "Extérieur : 100 % Lin",
      "Doublure : 100 % Soie",
    ]);
  });
});

test("Australia asks for no fibre content, and gets only the truth", () => {
  const label = fibreLabel(piece(australia, entries({ cotton: 96, "bamboo-rayon": 4 })));
  expect(label.lines[0]?.text).toBe("96% Cotton, 4% Viscose made from bamboo");
  expect(label.duty.required).toBe(false);
});

test("a further country is data alone", () => {
  const further = {
    ...canada,
    code: "further",
    together: false,
    languages: ["es"] as const,
    words: { es: { ...spanish, other: { one: "Otra fibra", several: "Otras fibras" } } },
    fibre: { ...canada.fibre, line: 10_000 },
  };
  const contents = piece(further, entries({ cotton: 91, silk: 9 }), { smallFibres: "lumped" });
  expect(texts(contents)).toEqual(["91 % Algodón, 9 % Otra fibra"]);
});
