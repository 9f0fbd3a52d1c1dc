import { describe, expect, test } from "vitest";
import { identityLines } from "../../../src/rules/labels/identity.ts";
import { type MaterialOrigin, originLines } from "../../../src/rules/labels/origin.ts";
import type { Craft } from "../../../src/rules/labels/pack.ts";
import { australia } from "../../../src/rules/labels/packs/australia.ts";
import { canada } from "../../../src/rules/labels/packs/canada.ts";
import { europeanUnion as eu } from "../../../src/rules/labels/packs/eu-uk.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";

// 16 CFR 303.19, 303.20 and 300.13; in Canada C.R.C., c. 1551.
describe("who answers for a piece", () => {
  test.each([
    "Member 142",
    "142",
    "No. 142",
    "member no. 142",
    "#142",
    "Mitglied 7",
    "-",
    "M-142",
    "Guild member no 142",
    "Artisan 142",
    "142 (member)",
    "n° 142",
    "🧶",
    "Membre numéro 7",
  ])("%s alone is no identity", (businessName) => {
    const { lines, refusals } = identityLines({ businessName }, us);
    expect(lines).toEqual([]);
    expect(refusals[0]?.words).toContain("alone does not say");
  });

  test.each([
    "Studio 54 Weaving",
    "Mill Lane Weavers",
    "Noor 3 Looms",
    "K2 Cloth",
    "A. Maker Cloth",
  ])("%s is", (businessName) => {
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

  // A bare "Woven in USA" would say that the yarn is of the country as well.
  test.each(["USA", "U.S.A.", "the United States", "usa ", "United States of America", "U S A"])(
    "%s typed as another country is still home",
    (country) => {
      expect(made(["imported"], "woven", country).lines[0]?.text).toBe(
        "Woven in USA of imported yarn",
      );
      expect(made(["unknown"], "woven", country)).toMatchObject({ lines: [] });
      expect(made([], "woven", country).warnings).toHaveLength(1);
    },
  );

  test.each(["🧶", "7", "X", "Peru (certified)", "Peru, certified organic"])(
    "%s is no country and prints nothing",
    (country) => {
      const { lines, warnings } = made(["imported"], "woven", country);
      expect(lines).toEqual([]);
      expect(warnings[0]?.words).toBe("Type the country's name alone, in plain letters.");
    },
  );

  test.each(["Côte d'Ivoire", "Trinidad and Tobago", "St. Lucia", "Guinea-Bissau"])(
    "%s is one",
    (country) => {
      expect(made(["unknown"], "woven", country).lines[0]?.text).toBe(`Woven in ${country}`);
    },
  );

  test("only the United States asks", () => {
    for (const pack of [canada, eu, australia])
      expect(originLines({ craft: "woven", materials: [] }, pack)).toMatchObject({
        lines: [],
        warnings: [],
      });
  });
});
