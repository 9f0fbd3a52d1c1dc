import fc from "fast-check";
import { expect, test } from "vitest";
import type { Fibre } from "../../../src/rules/fibre.ts";
import { finishes } from "../../../src/rules/labels/care/adjustments.ts";
import { careLabel } from "../../../src/rules/labels/care/care-label.ts";
import { careSteps } from "../../../src/rules/labels/care/levels.ts";
import { claimsCompliance } from "../../../src/rules/labels/claims.ts";
import { emptyDetails } from "../../../src/rules/labels/details.ts";
import { fibreCodes } from "../../../src/rules/labels/fibres.ts";
import { groups } from "../../../src/rules/labels/groups.ts";
import { itemLabel } from "../../../src/rules/labels/item-label.ts";
import { fibresIn, type LabelledItem } from "../../../src/rules/labels/label-contents.ts";
import type { LabelSetting } from "../../../src/rules/labels/label-setting.ts";
import { findPack, packs } from "../../../src/rules/labels/packs/index.ts";

const brands = ["", "", "Softleaf", "Linen Dream", "Certified Star", "🧶", "Virgin Hills"];
const fibres: fc.Arbitrary<Fibre[]> = fc
  .array(
    fc.record({
      fibre: fc.constantFrom(...fibreCodes),
      weight: fc.integer({ min: 1, max: 40 }),
      brand: fc.constantFrom(...brands),
    }),
    { minLength: 1, maxLength: 5 },
  )
  .map((all) => {
    const rest = all.slice(1).reduce((sum, { weight }) => sum + (weight % 20) + 1, 0);
    return all.map(({ fibre, weight, brand }, place) => ({
      ...{ fibre, brand, percent: place === 0 ? 100 - rest : (weight % 20) + 1 },
    }));
  });

const item: fc.Arbitrary<LabelledItem> = fc
  .record({
    title: fc.constantFrom("Towel", "Silk scarf", "Bamboo wrap", "Virgin wool 🧶"),
    kind: fc.constantFrom(...groups),
    fibres,
    label: fc.record({
      finishes: fc.uniqueArray(fc.constantFrom(...finishes), { maxLength: 3 }),
      white: fc.boolean(),
      care: fc.record({
        chosen: fc.record({ wash: fc.constantFrom(...careSteps.wash) }, { requiredKeys: [] }),
        tested: fc.boolean(),
      }),
      origin: fc.record({
        craft: fc.constantFrom("" as const, "knitted" as const),
        materials: fc.constantFrom(
          "" as const,
          "domestic" as const,
          "imported" as const,
          "unknown",
        ),
        madeAbroadIn: fc.constantFrom("", "USA", "the U.S.A.", "Portugal", "certified", "7"),
      }),
    }) as fc.Arbitrary<Partial<LabelledItem["label"]>>,
  })
  .map((one) => ({ ...one, label: { ...emptyDetails, ...one.label } }));

const settingIn = (code: string, businessName: string): LabelSetting => {
  const pack = findPack(code)!;
  return { pack, languages: [...pack.languages], symbols: false, maker: { businessName } };
};
const settings = fc
  .tuple(
    fc.constantFrom(...packs.map(({ code }) => code)),
    fc.constantFrom("Mill Lane Weavers", "Member 142", "M-142", "🧶", ""),
  )
  .map(([code, name]) => settingIn(code, name));

const everyLine = (label: ReturnType<typeof itemLabel>) =>
  [...label.fibre.lines, ...label.care.lines, ...label.caution.lines, ...label.origin]
    .map(({ text }) => text)
    .concat(label.identity);

test("nothing is printed that the rules refuse, of any item in any country", () => {
  fc.assert(
    fc.property(item, settings, (one, setting) => {
      const label = itemLabel(one, setting);
      const refusedAbout = label.refusals.map(({ about }) => about);
      if (refusedAbout.includes("fibre")) expect(label.fibre.lines).toEqual([]);
      else expect(label.fibre.lines.length).toBeGreaterThan(0);
      if (refusedAbout.includes("care")) {
        const { pack, languages } = setting;
        const { kind, label: details } = one;
        const given = { pack, languages, kind, fibres: fibresIn(one) };
        const advised = careLabel({ ...given, finishes: details.finishes, white: details.white });
        expect(label.care.lines).toEqual(advised.lines);
      }
      for (const text of everyLine(label)) {
        expect(claimsCompliance(text)).toBe(false);
        expect(text).not.toMatch(/(?<!Linen|Lin|Lino|Leinen) \(Linen Dream/);
        expect(text).not.toMatch(/142|🧶|undefined|[{}]/);
      }
    }),
    { numRuns: 1_000 },
  );
});

// 16 CFR 303.33: a bare claim of origin only where all the yarn is known to be of the country.
test("no label says the United States alone unless the yarn is from there", () => {
  fc.assert(
    fc.property(item, (one) => {
      const { origin } = itemLabel(one, settingIn("us", "Mill Lane Weavers"));
      const texts = origin.map(({ text }) => text);
      const bare = texts.filter((text) => /USA$|U\.S\.A\.$/.test(text));
      if (one.label.origin.materials !== "domestic") expect(bare).toEqual([]);
      else expect(texts.every((text) => /^Made in USA$|^\w+ in Portugal$/.test(text))).toBe(true);
    }),
  );
});
