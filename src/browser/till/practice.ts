import type { CatalogueItem, TillSceneShown } from "../../contract/till-device.ts";
import { makeTag } from "../../rules/tag-number.ts";
import { flatTax } from "../../rules/tax/tax-rules.ts";

/** Everything in practice is made up here, so that it needs no server and can reach no books. */
const id = (number: number): string =>
  `0000ab1e-0000-7000-8000-${String(number).padStart(12, "0")}`;

export const practiceScene = (now: Date): TillSceneShown => ({
  till: { id: id(1), number: 9, name: "for practice" },
  sale: {
    id: id(2),
    name: "Practice sale",
    stage: "selling",
    tax: flatTax(8_000, "Sales tax"),
    cashStep: 1,
    cashFives: "up",
    markdownRate: 0,
    markdownFrom: null,
    receiptFooter: "Practice: this is not a receipt.",
  },
  guild: {
    name: "Practice guild",
    address: "",
    currency: "USD",
    locale: "en-US",
    timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    tagLength: 8,
  },
  session: { id: id(3), float: 10_000, openedAt: now.toISOString(), openedBy: "Practice" },
  lastNumber: 0,
  goods: [
    { id: id(4), name: "Cloth bag", kind: "goods", price: 300, taxKind: "goods", position: 1 },
    { id: id(5), name: "Raffle ticket", kind: "goods", price: 100, taxKind: "goods", position: 2 },
    { id: id(6), name: "Gift", kind: "donation", price: null, taxKind: "", position: 3 },
  ],
  cashiers: [{ id: id(7), name: "Practice", number: 999, pinHash: "" }],
  mail: false,
});

const piece = (number: number, description: string, price: number): CatalogueItem => {
  const tag = makeTag(999, number, 8);
  if (!tag.ok) throw new Error(tag.problem.detail);
  return {
    ...{ id: id(100 + number), tag: tag.value, description, size: "", memberNumber: 999, price },
    ...{ onFloor: 1, entered: 1, piecesInSet: 1, taxKind: "clothing", donated: false },
    ...{ markdown: false, state: "on-floor", sold: null },
  };
};

/** One piece for everything that can happen, and a few more to fill a basket. */
export const practiceGoods = (): CatalogueItem[] => [
  piece(1, "Striped scarf", 4_800),
  { ...piece(2, "Mug rug, one of five", 900), onFloor: 5, entered: 5 },
  { ...piece(3, "Four napkins", 5_600), piecesInSet: 4 },
  {
    ...piece(4, "Grey throw, sold elsewhere", 16_500),
    ...{ onFloor: 0, state: "sold" as const },
    sold: { till: 3, receipt: "3-0012", at: "2026-11-25T15:12:00Z" },
  },
  { ...piece(5, "Runner, not checked in", 7_200), onFloor: 0, state: "not-checked-in" },
  piece(6, "Bread cloth", 2_400),
  piece(7, "Baby blanket", 8_900),
];
