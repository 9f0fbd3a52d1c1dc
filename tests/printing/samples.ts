import type { LabelContent } from "../../src/rules/labels/label-content.ts";

/** An invented guild's goods: short and long words, letters of several languages, fractions. */
const goods = [
  {
    title: "Twill scarf in greys and madder red",
    size: "30 × 180 cm",
    fibreLines: ["70 % wool, 30 % silk"],
    careLines: ["Hand wash cold, dry flat"],
    price: "$86.00",
  },
  {
    title: "Tea towel, huck lace",
    size: "",
    fibreLines: ["60 % cotton, 40 % linen"],
    careLines: ["Machine wash hot"],
    price: "$24.00",
    quantityNote: "6 alike, price each",
    setNote: "set of 2",
  },
  {
    title: "Überwurf für Łukasz, Köper ½ breit, mit langen gedrehten Fransen und Hohlsaum",
    size: "140 × 200 cm",
    fibreLines: ["52 % Schurwolle, 28 % Alpaka, 20 % Maulbeerseide"],
    careLines: ["Handwäsche kalt, nicht bleichen, liegend trocknen, nicht heiß bügeln"],
    price: "1.284,50 €",
    memberName: "Żaneta Größe-Étoile",
  },
];

/** Tags of 8 or 10 digits; every number differs. */
export function sampleTags(count: number, digits: 8 | 10 = 8): LabelContent[] {
  return Array.from({ length: count }, (_, index) => {
    const tag = String((digits === 8 ? 10_100_126 : 1_234_000_013) + index * 997);
    const half = (digits - 2) / 2;
    const shownTag = `${tag.slice(0, half)}-${tag.slice(half, 2 * half)}-${tag.slice(-2)}`;
    return {
      ...goods[index % goods.length]!,
      tag,
      shownTag,
      memberNumber: tag.slice(0, half),
      cautionLines: [],
      code: "bars",
    };
  });
}

const numbersOf = (index: number, digits: 8 | 10) => {
  const { tag, shownTag, memberNumber } = sampleTags(index + 1, digits)[index]!;
  return { tag, shownTag, memberNumber };
};

/** A label with all the words the law may want and all five care symbols. */
export function fullLabel(more: Partial<LabelContent> = {}, digits: 8 | 10 = 8): LabelContent {
  return {
    ...numbersOf(0, digits),
    title: "Twill scarf in greys and madder red",
    details: "Broken twill, natural greys",
    size: "30 × 180 cm",
    fibreLines: ["70% Wool, 30% Silk"],
    careLines: ["Hand wash cold.", "Do not bleach.", "Dry flat.", "Or dryclean."],
    cautionLines: [],
    originLine: "Woven in USA of imported yarn",
    identityLine: "Elm Street Handweaving",
    price: "$86.00",
    symbols: {
      set: "astm",
      codes: ["wash:hand", "bleach:none", "dry:flat", "iron:2", "professional:P"],
    },
    code: "bars",
    ...more,
  };
}

/** Short labels that fit every stock, each with a number of its own. */
export function plainLabels(
  count: number,
  code: LabelContent["code"],
  digits: 8 | 10 = 8,
): LabelContent[] {
  return sampleTags(count, digits).map(({ tag, shownTag, memberNumber, price }) => ({
    tag,
    shownTag,
    memberNumber,
    price,
    title: "Tea towel, huck lace",
    fibreLines: ["60% Cotton, 40% Linen"],
    careLines: ["Machine wash warm."],
    cautionLines: [],
    code,
  }));
}

export const guild = {
  guildName: "Guild of the Long Shed",
  saleName: "Spring sale",
  createdAt: new Date("2027-04-20T09:00:00Z"),
};
