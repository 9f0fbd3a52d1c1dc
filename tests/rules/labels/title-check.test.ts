import { describe, expect, test } from "vitest";
import type { FibreCode } from "../../../src/rules/labels/fibres.ts";
import { europeanUnion as eu } from "../../../src/rules/labels/packs/eu-uk.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";
import { checkTitle } from "../../../src/rules/labels/title-check.ts";

describe("a title", () => {
  const sources = (title: string, fibres: FibreCode[], pack = us) =>
    checkTitle(title, fibres, pack).warnings.map(({ source }) => source);

  // 16 CFR 303.18.
  test.each<[string, FibreCode[]]>([
    ["Cashmere-soft scarf", ["wool"]],
    ["Towel with the linen look", ["cotton"]],
    ["Silky wrap", ["lyocell"]],
    ["Sylk shawl", ["rayon"]],
    ["MERINO cowl", ["acrylic"]],
    ["Merino cowl", ["cashmere"]],
    ["Lambswool throw", ["alpaca"]],
    ["Woollen vest", ["polyester"]],
    ["Pashmina wrap", ["acrylic"]],
    ["Suri shawl", ["wool"]],
    ["🧶cashmere🧶", ["wool"]],
  ])("%s of %j names what is not there", (title, fibres) => {
    expect(sources(title, fibres)).toEqual(["16 CFR 303.18"]);
  });

  test.each<[string, FibreCode[]]>([
    ["Wool shawl", ["alpaca"]],
    ["Merino cowl", ["superwash-wool"]],
    ["Cottolin towel", ["cotton", "linen"]],
    ["Linen and cotton towel", ["cotton", "linen"]],
    ["Autumn leaves runner", ["cotton", "silk"]],
    ["Flax towel", ["linen"]],
  ])("%s of %j is fine", (title, fibres) => {
    expect(sources(title, fibres)).toEqual([]);
  });

  // 16 CFR 303.17(b).
  test("that names one fibre of several is warned about, and points to the label", () => {
    const advice = checkTitle("Silk scarf", ["silk", "lyocell"], us);
    expect(advice.warnings.map(({ source }) => source)).toEqual(["16 CFR 303.17(b)"]);
    expect(advice.pointers[0]?.text).toBe("See label for the product's full fiber content.");
    const beside = checkTitle("Silk scarf", ["silk", "lyocell"], us, { fullContentBeside: true });
    expect(beside.pointers).toEqual([]);
    expect(beside.warnings[0]?.words).toContain('The title says "Silk"');
    expect(beside.warnings[0]?.words).toContain("prints it beside the title");
  });

  test("that says bamboo or virgin is set right", () => {
    expect(sources("Bamboo scarf", ["bamboo-rayon"])[0]).toContain("Trade Commission");
    expect(sources("Virgin wool rug", ["recycled-wool"])).toEqual(["16 CFR 300.20"]);
    expect(sources("Virgin wool rug", ["wool"])).toEqual([]);
    const marked = checkTitle("Virgin wool rug", ["wool"], us, { reclaimed: true });
    expect(marked.warnings.map(({ source }) => source)).toEqual(["16 CFR 300.20"]);
    // Rayon that is marked as made from bamboo is told how to say it, and not that it is absent.
    expect(sources("Bamboo scarf", ["viscose"])).toHaveLength(1);
  });

  test.each<[string, FibreCode[], boolean]>([
    ["Wollschal", ["wool"], false],
    ["Seidenschal", ["lyocell"], true],
    ["Baumwolltuch", ["cotton"], false],
    ["Schafwolldecke", ["acrylic"], true],
    ["Tuch aus Rohseide", ["cotton"], true],
    ["Foulard en soie", ["silk"], false],
    ["Linge de table", ["cotton"], false],
    ["Bufanda de algodón", ["acrylic"], true],
  ])("%s of %j in the languages of the country: %s", (title, fibres, warned) => {
    expect(sources(title, fibres, eu).length > 0).toBe(warned);
  });

  test("that promises that a law is met is to leave it out (house rule)", () => {
    const words = (title: string) =>
      checkTitle(title, ["cotton"], us).warnings.map((one) => one.words);
    expect(words("Certified baby bib")[0]).toContain("Leave it out");
    expect(words("Compline bib")).toEqual([]);
  });
});
