import { describe, expect, test } from "vitest";
import type { Fibre } from "../../../src/rules/fibre.ts";
import { emptyDetails, type LabelDetails } from "../../../src/rules/labels/details.ts";
import { itemLabel, labelErrors } from "../../../src/rules/labels/item-label.ts";
import type { LabelledItem } from "../../../src/rules/labels/label-contents.ts";
import { settingOf } from "../../../src/rules/labels/label-setting.ts";
import { packForLocale } from "../../../src/rules/labels/pack-for-locale.ts";

const guild = {
  jurisdiction: "us",
  labelLanguages: [] as string[],
  labelIdentity: "member",
  careSymbols: false,
  locale: "en-US",
  name: "Alder Creek Weavers",
  address: "Mill Lane 4\nAlder Creek",
  registeredNumber: "",
};
const nobody = { businessName: "", postalLine: "", registeredNumber: "" };
const setting = (more: Partial<typeof guild> = {}, member = nobody) =>
  settingOf({ ...guild, ...more }, member);

const fibres = (shares: Record<string, number>): Fibre[] =>
  Object.entries(shares).map(([fibre, percent]) => ({ fibre, percent }));
const item = (
  shares: Record<string, number>,
  label: Partial<LabelDetails> = {},
  more: Partial<LabelledItem> = {},
): LabelledItem => ({
  title: "Towel",
  kind: "towel",
  fibres: fibres(shares),
  label: { ...emptyDetails, ...label },
  ...more,
});
const texts = (lines: { text: string }[]) => lines.map(({ text }) => text);

describe("the whole label of an item", () => {
  test("a towel: fibres, care, maker and no origin before the yarn's is known", () => {
    const label = itemLabel(item({ cotton: 60, linen: 40 }), setting());
    expect(texts(label.fibre.lines)).toEqual(["60% Cotton, 40% Linen"]);
    // The sample wording for a cotton and linen towel, with the words about softener.
    expect(texts(label.care.lines)[0]).toContain(
      "Machine wash warm. Only non-chlorine bleach, when needed. Tumble dry low.",
    );
    expect(label.identity).toEqual(["Alder Creek Weavers", "Mill Lane 4, Alder Creek"]);
    expect(label.origin).toEqual([]);
    expect(label.warnings.map(({ about }) => about)).toEqual(["origin"]);
    expect(label.reasons.every(({ source }) => source !== "")).toBe(true);
    expect(label.refusals).toEqual([]);
  });

  test("says where the yarn came from and never assumes it (16 CFR 303.33)", () => {
    const from = (materials: LabelDetails["origin"]["materials"]) =>
      texts(
        itemLabel(
          item({ cotton: 100 }, { origin: { ...emptyDetails.origin, materials } }),
          setting(),
        ).origin,
      );
    expect(from("")).toEqual([]);
    expect(from("unknown")).toEqual([]);
    expect(from("domestic")).toEqual(["Made in USA"]);
    expect(from("imported")).toEqual(["Woven in USA of imported yarn"]);
    expect(from("mixed")).toEqual(["Woven in USA of domestic and imported yarn"]);
  });

  test("pools warp and weft by weight: 300 g cotton and 200 g linen", () => {
    const blend = (fibre: string) => [{ fibre, percent: 100 }];
    const grams = (thousandths: number) => ({ unit: "g" as const, thousandths });
    const yarns: LabelDetails["yarns"] = [
      { place: "warp", amount: grams(300_000), number: null, blend: blend("cotton") },
      { place: "weft", amount: grams(200_000), number: null, blend: blend("linen") },
    ];
    const label = itemLabel(item({}, { yarns }), setting());
    expect(texts(label.fibre.lines)).toEqual(["60% Cotton, 40% Linen"]);
    expect(labelErrors(item({}, { yarns }), setting())).toEqual([]);
  });

  test("a brand stands beside the generic name; a brand that names another fibre is refused", () => {
    const branded = (brand: string) => ({
      ...item({}),
      fibres: [{ fibre: "lyocell", percent: 100, brand }],
    });
    const label = itemLabel(branded("Marlowe"), setting());
    expect(texts(label.fibre.lines)).toEqual(["100% Lyocell (Marlowe)"]);
    const [error] = labelErrors(branded("Silkena silk"), setting());
    expect(error).toMatchObject({ field: "fibres" });
    expect(error?.message).toContain("16 CFR 303.18");
  });

  test("harder care wants a test, and prints only with one (16 CFR 423.6(c))", () => {
    const chosen = { wash: "machine-40" as const };
    const untested = item({ wool: 100 }, { care: { chosen, tested: false } });
    expect(labelErrors(untested, setting())).toEqual([
      { field: "label.care.tested", message: expect.stringContaining("I have tested this") },
    ]);
    expect(texts(itemLabel(untested, setting()).care.lines)[0]).toMatch(/^Hand wash cold\./);
    const tested = item({ wool: 100 }, { care: { chosen, tested: true } });
    const label = itemLabel(tested, setting());
    expect(label.care.recorded.basis).toBe("tested");
    expect(texts(label.care.lines)[0]).toMatch(/^Machine wash warm\./);
  });

  test("soap can be entered without fibres, and nobody asks where its yarn came from", () => {
    const soap = item(
      {},
      { origin: { ...emptyDetails.origin, materials: "imported" } },
      { kind: "soap" },
    );
    expect(labelErrors(soap, setting())).toEqual([]);
    const label = itemLabel(soap, setting());
    expect(label).toMatchObject({ origin: [], warnings: [], refusals: [] });
    expect(label.fibre.lines).toEqual([]);
  });

  // 16 CFR 303.17(b) and 300.20.
  test("a title that names one fibre of a blend, or calls reclaimed wool virgin, is warned about", () => {
    const titled = (title: string, fibre: Fibre[]) =>
      itemLabel({ ...item({}), title, fibres: fibre }, setting()).warnings.filter(
        ({ about }) => about === "title",
      );
    expect(titled("Silk scarf", fibres({ silk: 60, cotton: 40 }))[0]?.source).toBe(
      "16 CFR 303.17(b)",
    );
    expect(titled("Silk and cotton scarf", fibres({ silk: 60, cotton: 40 }))).toEqual([]);
    const used = [{ fibre: "alpaca", percent: 100, reclaimed: true }];
    expect(titled("Virgin wool rug", used).map(({ source }) => source)).toContain("16 CFR 300.20");
  });

  test("an answer that no list offers is refused; one to another kind's question is let be", () => {
    const scarf = (answers: Record<string, string>) =>
      labelErrors(item({ wool: 100 }, { answers }, { kind: "scarf" }), setting());
    expect(scarf({ surface: "fluffy" })).toEqual([
      { field: "label.answers.surface", message: "Choose one of the answers." },
    ]);
    expect(scarf({ surface: "plain", magnet: "whatever" })).toEqual([]);
  });
});

describe("who answers for a piece", () => {
  const lines = (more: Partial<typeof guild>, member = nobody) =>
    itemLabel(item({ cotton: 100 }), setting(more, member)).identity;
  const own = { ...nobody, businessName: "Thistle Looms" };

  test("the member's business name; a number alone is stood in for by the guild", () => {
    expect(lines({}, own)).toEqual(["Thistle Looms"]);
    expect(lines({}, { ...own, businessName: "Member 142" })[0]).toBe("Alder Creek Weavers");
    expect(lines({}, { ...nobody, registeredNumber: "12345" })).toEqual(["RN 12345"]);
  });

  test("or the guild, or its registered number", () => {
    expect(lines({ labelIdentity: "guild" }, own)[0]).toBe("Alder Creek Weavers");
    expect(lines({ labelIdentity: "number", registeredNumber: "RN 54321" }, own)).toEqual([
      "RN 54321",
    ]);
    expect(lines({ labelIdentity: "number" }, own)[0]).toBe("Alder Creek Weavers");
  });

  test("Canada wants the address beside the name (C.R.C. c. 1551)", () => {
    const canada = { jurisdiction: "canada", locale: "en-CA" };
    expect(lines(canada, own)[0]).toBe("Alder Creek Weavers");
    expect(lines(canada, { ...own, postalLine: "Mill Lane 9, Alder Creek" })).toEqual([
      "Thistle Looms",
      "Mill Lane 9, Alder Creek",
    ]);
  });
});

describe("languages and countries", () => {
  test("together where the law has them so, else the guild's own", () => {
    expect(setting({ jurisdiction: "canada" }).languages).toEqual(["en-GB", "fr"]);
    expect(setting({ jurisdiction: "eu", locale: "de-DE" }).languages).toEqual(["de"]);
    expect(setting({ jurisdiction: "eu", locale: "nl-NL" }).languages).toHaveLength(1);
    expect(setting({ jurisdiction: "eu", labelLanguages: ["fr", "es"] }).languages).toEqual(
      expect.arrayContaining(["fr", "es"]),
    );
  });

  test.each([
    ["en-US", "us"],
    ["fr-CA", "canada"],
    ["en-GB", "uk"],
    ["en-AU", "australia"],
    ["de-DE", "eu"],
    ["en", "us"],
  ])("a guild that speaks %s starts with the rules of %s", (locale, code) => {
    expect(packForLocale(locale)).toBe(code);
  });
});
