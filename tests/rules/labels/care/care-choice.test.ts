import { describe, expect, test } from "vitest";
import { type CareDetails, careLabel } from "../../../../src/rules/labels/care/care-label.ts";
import { type FibreCode, fibreCodes } from "../../../../src/rules/labels/fibres.ts";
import { groups } from "../../../../src/rules/labels/groups.ts";
import { australia } from "../../../../src/rules/labels/packs/australia.ts";
import { canada } from "../../../../src/rules/labels/packs/canada.ts";
import { europeanUnion as eu } from "../../../../src/rules/labels/packs/eu-uk.ts";
import { packs } from "../../../../src/rules/labels/packs/index.ts";
import { unitedStates as us } from "../../../../src/rules/labels/packs/us.ts";

const care = (fibres: FibreCode[], more: Partial<CareDetails> = {}) =>
  careLabel({ pack: us, kind: "other", fibres, ...more });

describe("what the member chooses", () => {
  test("may always be gentler, and is recorded", () => {
    const label = care(["cotton"], { chosen: { wash: "hand-30", dry: "line" } });
    expect(label.refusals).toEqual([]);
    expect(label.levels?.wash).toBe("hand-30");
    expect(label.recorded).toEqual({
      basis: "our-table",
      choices: [
        { step: "wash", advised: "machine-40", chosen: "hand-30", stronger: false },
        { step: "dry", advised: "tumble-medium", chosen: "line", stronger: false },
      ],
    });
  });

  // 16 CFR 423.6(b): one safe method is enough, but cleaning that does harm has to be warned of.
  test("names cleaning beside a machine wash only where it is not any cleaning", () => {
    expect(care(["cotton"]).lines[0]?.text).not.toMatch(/dryclean/i);
    expect(care(["acrylic"]).lines[0]?.text).toContain("Or dryclean gently, petroleum solvent");
    const gentler = care(["cotton"], { chosen: { professional: "none" } });
    expect(gentler.lines[0]?.text).toContain("Do not dryclean.");
  });

  // A reasonable basis: 16 CFR 423.6(c).
  test("may be harder only when tested", () => {
    const refused = care(["wool"], { chosen: { wash: "machine-40" } });
    expect(refused.refusals[0]?.source).toBe("16 CFR 423.6(c)");
    expect(refused.lines).toEqual([]);
    const tested = care(["wool"], { chosen: { wash: "machine-40" }, tested: true });
    expect(tested.lines[0]?.text).toMatch(/^Machine wash warm\./);
    expect(tested.recorded.basis).toBe("tested");
    expect(tested.recorded.choices[0]?.stronger).toBe(true);
  });

  test("has to be a level there is", () => {
    expect(() => care(["wool"], { chosen: { wash: "boil" as "none" } })).toThrow("boil");
  });
});

// Common practice, no source: forms and fillings lose their shape in a machine, rugs in a dryer.
test.each([
  ["bag", /^Hand wash cold\..*Dry flat\./],
  ["toy", /^Hand wash cold\..*Dry flat\./],
  ["rug", /^Machine wash cold, gentle cycle\..*Dry flat\..*Shake out often\.$/],
])("a %s of cotton is washed as its form bears", (kind, words) => {
  expect(care(["cotton"], { kind }).lines[0]?.text).toMatch(words);
});

describe("symbols", () => {
  test("stand in the order wash, bleach, dry, iron, professional care", () => {
    expect(care(["cotton", "linen"]).symbols).toEqual({
      set: "astm",
      codes: [
        "wash:machine-40",
        "bleach:non-chlorine",
        "dry:tumble-low",
        "iron:3",
        "professional:P",
      ],
    });
  });

  test("mark a gentle wash by two bars in the American set, by one in the other", () => {
    expect(care(["lyocell"]).symbols.codes[0]).toBe("wash:machine-30-very-gentle");
    expect(care(["lyocell"], { pack: eu }).symbols).toMatchObject({ set: "iso" });
    expect(care(["lyocell"], { pack: eu }).symbols.codes[0]).toBe("wash:machine-30-gentle");
    expect(care(["superwash-wool"], { pack: eu }).symbols.codes[0]).toBe(
      "wash:machine-30-very-gentle",
    );
  });

  test("leave drying out for what is not washed", () => {
    expect(care(["wool"], { kind: "wall-piece" }).symbols.codes).toEqual([
      "wash:none",
      "bleach:none",
      "iron:none",
      "professional:none",
    ]);
  });
});

describe("the duty", () => {
  // 16 CFR 423.1(a) and 423.3; the Australian standard of 2023 with its exemptions.
  test.each([
    [us, "scarf", true, true],
    [us, "yardage", true, false],
    [us, "towel", false, false],
    [us, "gloves", false, false],
    [australia, "towel", true, true],
    [australia, "rug", false, false],
    [canada, "scarf", false, false],
    [eu, "jacket", false, false],
  ])("$0.code, a %s: required %s, permanent %s", (pack, kind, required, permanent) => {
    expect(care(["cotton"], { pack, kind }).duty).toMatchObject({ required, permanent });
  });

  test("says that a hang-tag alone does not do for clothing", () => {
    expect(care(["silk"], { kind: "scarf" }).duty.words).toContain("hang-tag alone does not do");
  });
});

test("candles and soap have no care label, a piece without fibres is asked about", () => {
  expect(care(["cotton"], { kind: "soap" })).toMatchObject({ lines: [], refusals: [] });
  expect(care([]).refusals).toHaveLength(1);
});

test("every fibre, group and language makes words with a wash or a cleaning instruction", () => {
  for (const pack of packs)
    for (const kind of groups)
      for (const fibre of fibreCodes)
        for (const line of care([fibre], { pack, kind }).lines) {
          expect(line.text).toMatch(/wash|dry ?clean|lav|nettoy|limp|wäsche|waschen|reinig/i);
          expect(line.text).not.toMatch(/[{}]|undefined|\s\s/);
        }
});
