import { describe, expect, test } from "vitest";
import type { FibreCode } from "../../../src/rules/labels/fibres.ts";
import { identityLines } from "../../../src/rules/labels/identity.ts";
import { type MaterialOrigin, originLines } from "../../../src/rules/labels/origin.ts";
import type { Craft } from "../../../src/rules/labels/pack.ts";
import { australia } from "../../../src/rules/labels/packs/australia.ts";
import { canada } from "../../../src/rules/labels/packs/canada.ts";
import { europeanUnion as eu } from "../../../src/rules/labels/packs/eu-uk.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";
import { checkTitle } from "../../../src/rules/labels/title-check.ts";

// 16 CFR 303.19, 303.20 and 300.13; in Canada C.R.C., c. 1551.
describe("who answers for a piece", () => {
  test.each(["Member 142", "142", "No. 142", "member no. 142", "#142", "Mitglied 7", "-"])(
    "%s alone is no identity",
    (businessName) => {
      const { lines, refusals } = identityLines({ businessName }, us);
      expect(lines).toEqual([]);
      expect(refusals[0]?.words).toContain("alone does not say");
    },
  );

  test.each(["Studio 54 Weaving", "Mill Lane Weavers", "Noor 3 Looms"])("%s is", (businessName) => {
    expect(identityLines({ businessName }, us).lines).toEqual([businessName]);
  });

  test("a registered number does in place of a name", () => {
    expect(identityLines({ registeredNumber: "rn 12345" }, us).lines).toEqual(["RN 12345"]);
    expect(identityLines({ registeredNumber: "12345" }, canada).lines).toEqual(["CA 12345"]);
    expect(identityLines({ registeredNumber: "CA 123" }, canada).refusals).toHaveLength(1);
    expect(identityLines({ registeredNumber: "12345" }, eu).refusals).toHaveLength(1);
    expect(identityLines({}, us).refusals).toHaveLength(1);
  });

  test("Canada wants a postal address with the name", () => {
    const businessName = "Mill Lane Weavers";
    expect(identityLines({ businessName }, canada).refusals).toHaveLength(1);
    const address = "1 Mill Lane, Anytown";
    expect(identityLines({ businessName, address }, canada).lines).toEqual([businessName, address]);
  });

  test("where nobody asks, nothing is refused and a number alone still is", () => {
    expect(identityLines({}, australia)).toMatchObject({ lines: [], refusals: [] });
    expect(identityLines({ businessName: "Member 3" }, australia).refusals).toHaveLength(1);
  });
});

// 16 CFR 303.33; the wording is our own, in the form of the rule.
describe("where a piece was made", () => {
  const made = (materials: MaterialOrigin[], craft: Craft = "woven", madeAbroadIn?: string) =>
    originLines({ craft, materials, madeAbroadIn }, us);

  test.each<[MaterialOrigin[], string[]]>([
    [["imported"], ["Woven in USA of imported yarn"]],
    [["domestic"], ["Made in USA"]],
    [["domestic", "imported"], ["Woven in USA of domestic and imported yarn"]],
    [["domestic", "unknown"], []],
    [[], []],
  ])("%j: %j", (materials, words) => {
    const { lines, warnings } = made(materials);
    expect(lines.map(({ text }) => text)).toEqual(words);
    expect(warnings).toHaveLength(words.length === 0 ? 1 : 0);
  });

  test("other crafts look back to their own material, other countries are named", () => {
    expect(made(["imported"], "spun").lines[0]?.text).toBe("Spun in USA of imported fiber");
    expect(made(["unknown"], "woven", "Canada").lines[0]?.text).toBe("Woven in Canada");
  });

  test("only the United States asks", () => {
    for (const pack of [canada, eu, australia])
      expect(originLines({ craft: "woven", materials: [] }, pack)).toMatchObject({
        lines: [],
        warnings: [],
      });
  });
});

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
    ["Woollen vest", ["polyester"]],
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
  test("that names one fibre of several points to the label, unless all stand beside it", () => {
    const advice = checkTitle("Silk scarf", ["silk", "lyocell"], us);
    expect(advice.warnings.map(({ source }) => source)).toEqual(["16 CFR 303.17(b)"]);
    expect(advice.pointers[0]?.text).toBe("See label for the product's full fiber content.");
    expect(checkTitle("Silk scarf", ["silk", "lyocell"], us, true).warnings).toEqual([]);
  });

  test("that says bamboo or virgin is set right", () => {
    expect(sources("Bamboo scarf", ["bamboo-rayon"])[0]).toContain("Trade Commission");
    expect(sources("Virgin wool rug", ["recycled-wool"])).toEqual(["16 CFR 300.20"]);
    expect(sources("Virgin wool rug", ["wool"])).toEqual([]);
  });

  test.each<[string, FibreCode[], boolean]>([
    ["Wollschal", ["wool"], false],
    ["Seidenschal", ["lyocell"], true],
    ["Baumwolltuch", ["cotton"], false],
    ["Foulard en soie", ["silk"], false],
    ["Linge de table", ["cotton"], false],
    ["Bufanda de algodón", ["acrylic"], true],
  ])("%s of %j in the languages of the country: %s", (title, fibres, warned) => {
    expect(sources(title, fibres, eu).length > 0).toBe(warned);
  });
});
