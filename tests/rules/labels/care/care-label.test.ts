import { describe, expect, test } from "vitest";
import type { Finish } from "../../../../src/rules/labels/care/adjustments.ts";
import { type CareDetails, careLabel } from "../../../../src/rules/labels/care/care-label.ts";
import { fibreCare } from "../../../../src/rules/labels/care/fibre-care.ts";
import { isStronger, stepOrder } from "../../../../src/rules/labels/care/levels.ts";
import { type FibreCode, fibreCodes } from "../../../../src/rules/labels/fibres.ts";
import { australia } from "../../../../src/rules/labels/packs/australia.ts";
import { canada } from "../../../../src/rules/labels/packs/canada.ts";
import { europeanUnion as eu } from "../../../../src/rules/labels/packs/eu-uk.ts";
import { unitedStates as us } from "../../../../src/rules/labels/packs/us.ts";

const care = (fibres: FibreCode[], more: Partial<CareDetails> = {}) =>
  careLabel({ pack: us, kind: "other", fibres, ...more });

const text = (fibres: FibreCode[], more: Partial<CareDetails> = {}) =>
  care(fibres, more).lines[0]?.text;

const levelsOf = (label: ReturnType<typeof care>) =>
  stepOrder.map((step) => label.levels?.[step]).join(" ");

// Textile-handbook practice, from memory; the weakest part decides each step.
describe("the most delicate fibre decides each step", () => {
  test.each<[FibreCode[], string]>([
    [["cotton", "linen"], "machine-40 non-chlorine tumble-low 3 P"],
    [["cotton", "linen", "ramie"], "gentle-30 non-chlorine line 2 P"],
    [["cotton", "metallic"], "hand-30 none flat none none"],
    [["wool", "nylon"], "hand-30 none flat 1 P"],
    [["superwash-wool", "nylon"], "very-gentle-30 none flat 1 P"],
    [["silk", "lyocell"], "hand-30 none flat-shade 1 P"],
    [["cotton", "rayon"], "hand-30 non-chlorine line 2 P"],
    [["wool", "acrylic"], "hand-30 none flat 1 F-gentle"],
    [["cotton", "unknown"], "hand-30 none flat-shade none none"],
  ])("%j: %s", (fibres, levels) => {
    expect(levelsOf(care(fibres))).toBe(levels);
  });

  test("so that no pair is treated harder than either of its fibres", () => {
    for (const one of fibreCodes)
      for (const other of fibreCodes) {
        const { levels } = care([one, other]);
        for (const step of stepOrder)
          for (const code of [one, other])
            expect(isStronger(step, fibreCare[code][step], levels![step])).toBe(false);
      }
  });

  test("unknown fibres are washed apart", () => {
    expect(text(["cotton", "unknown"])).toContain("Wash separately.");
  });
});

describe("the words", () => {
  test.each<[string, FibreCode[], Partial<CareDetails>, string]>([
    [
      "a cotton and linen napkin",
      ["cotton", "linen"],
      { kind: "napkin" },
      "Machine wash warm. Only non-chlorine bleach, when needed. Tumble dry low. Iron hot if needed.",
    ],
    [
      "a towel, with its softener rule",
      ["cotton", "linen"],
      { kind: "towel" },
      "Machine wash warm. Only non-chlorine bleach, when needed. Tumble dry low. Iron hot if needed. For best absorbency skip fabric softener and dryer sheets.",
    ],
    [
      "a wool shawl",
      ["wool"],
      { kind: "shawl" },
      "Hand wash cold. Do not bleach. Dry flat. Warm iron with press cloth if needed. Or dryclean.",
    ],
    [
      "a hand-dyed towel",
      ["cotton"],
      { kind: "towel", finishes: ["hand-dyed"] },
      "Machine wash cold, gentle cycle. Only non-chlorine bleach, when needed. Tumble dry medium. Iron hot if needed. Hand-dyed: color may run. Wash separately in cool water the first few times. For best absorbency skip fabric softener and dryer sheets.",
    ],
    [
      "white cotton bears any bleach, which goes unsaid",
      ["cotton"],
      { kind: "napkin", white: true },
      "Machine wash warm. Tumble dry medium. Iron hot if needed.",
    ],
    [
      "pure linen is ironed damp",
      ["linen"],
      {},
      "Machine wash warm. Only non-chlorine bleach, when needed. Tumble dry low. Iron hot while damp if needed.",
    ],
    [
      "a wall piece",
      ["wool"],
      { kind: "wall-piece" },
      "Do not wash - do not dryclean. Dust lightly.",
    ],
  ])("of %s", (_, fibres, more, words) => {
    expect(text(fibres, more)).toBe(words);
  });

  test("silk and lyocell to wear: by hand, on a line", () => {
    const words = (fibres: FibreCode[]) => text(fibres, { kind: "scarf" });
    expect(words(["lyocell"])).toMatch(/^Hand wash cold\..*Line dry\./);
    expect(words(["silk", "lyocell"])).toMatch(/^Hand wash cold\..*Line dry\./);
    expect(words(["silk", "wool"])).toContain("Dry flat in shade.");
  });

  test("are in the languages of the pack, British degrees included", () => {
    expect(care(["wool"], { pack: canada }).lines.map((line) => line.text.slice(0, 27))).toEqual([
      "Hand wash cool, 30 °C. Do n",
      "Laver à la main, 30 °C. Ne ",
    ]);
    expect(care(["wool"], { pack: eu }).lines).toHaveLength(4);
    expect(care(["wool"], { pack: eu, languages: ["de"] }).lines[0]?.text).toBe(
      "Handwäsche, 30 °C. Nicht bleichen. Liegend trocknen. Bei Bedarf warm bügeln, mit Bügeltuch. Oder chemisch reinigen.",
    );
  });

  test("a dyed colour is British in Britain", () => {
    const words = text(["cotton"], { pack: australia, finishes: ["painted"] });
    expect(words).toContain(
      "Hand-dyed: colour may run. Wash separately in cool water the first few times.",
    );
  });

  test.each<[Finish, string]>([
    ["metallic", "hand-30 none flat none none"],
    ["beads", "hand-30 none flat none none"],
    ["fulled", "hand-30 non-chlorine flat 3 P"],
    ["lined", "gentle-30 non-chlorine line 3 P"],
    ["hand-dyed", "gentle-30 non-chlorine tumble-medium 3 P"],
    ["pre-washed", "machine-40 non-chlorine tumble-medium 3 P"],
  ])("cotton that is %s: %s", (finish, levels) => {
    expect(levelsOf(care(["cotton"], { finishes: [finish] }))).toBe(levels);
  });

  test.each<Finish>(["hand-dyed", "painted"])(
    "white cotton that is %s bears no chlorine",
    (dyed) => {
      const words = text(["cotton"], { kind: "napkin", white: true, finishes: [dyed] });
      expect(words).toContain("Only non-chlorine bleach, when needed.");
    },
  );

  test("cloth not washed yet may shrink; a softener is not spoken of for hand washing", () => {
    expect(text(["cotton"], { finishes: ["not-washed-yet"] })).toContain("May shrink");
    expect(text(["cotton", "rayon"], { kind: "towel" })).not.toContain("softener");
  });
});
