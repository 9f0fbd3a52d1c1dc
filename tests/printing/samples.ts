import type { TagLabel } from "../../src/rules/tag-label.ts";

/** An invented guild's goods: short and long words, letters of several languages, fractions. */
const goods = [
  {
    description: "Twill scarf in greys and madder red",
    size: "30 × 180 cm",
    fibreText: "70 % wool, 30 % silk",
    careText: "Hand wash cold, dry flat",
    price: "$86.00",
  },
  {
    description: "Tea towel, huck lace",
    size: "",
    fibreText: "60 % cotton, 40 % linen",
    careText: "Machine wash hot",
    price: "$24.00",
    quantityNote: "6 alike, price each",
    setNote: "set of 2",
  },
  {
    description: "Überwurf für Łukasz, Köper ½ breit, mit langen gedrehten Fransen und Hohlsaum",
    size: "140 × 200 cm",
    fibreText:
      "52 % Schurwolle, 28 % Alpaka, 12 % Maulbeerseide, 8 % recyceltes Polyamid, Fransen reine Seide",
    careText:
      "Handwäsche kalt, nicht bleichen, liegend trocknen, mit mittlerer Hitze bügeln, Reinigung möglich",
    price: "1.284,50 €",
    memberName: "Żaneta Größe-Étoile",
  },
] as const;

/** Tags of 8 or 10 digits; every number differs. */
export function sampleTags(count: number, digits: 8 | 10 = 8): TagLabel[] {
  return Array.from({ length: count }, (_, index) => {
    const tag = String((digits === 8 ? 10_100_126 : 1_234_000_013) + index * 9973);
    const half = (digits - 2) / 2;
    const shownTag = `${tag.slice(0, half)}-${tag.slice(half, 2 * half)}-${tag.slice(-2)}`;
    return { ...goods[index % goods.length]!, tag, shownTag, memberNumber: tag.slice(0, half) };
  });
}

export const guild = {
  guildName: "Guild of the Long Shed",
  saleName: "Spring sale",
  createdAt: new Date("2027-04-20T09:00:00Z"),
};
