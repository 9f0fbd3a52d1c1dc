import type { CatalogueItem, TillSceneShown } from "../../src/contract/till-device.ts";
import { makeTag } from "../../src/rules/tag-number.ts";
import { flatTax } from "../../src/rules/tax/tax-rules.ts";

const id = (number: number) => `01900000-0000-7000-8000-${String(number).padStart(12, "0")}`;

/** Ids in order, so that a test names the same thing the same way each time. */
export function idsFrom(first = 1): () => string {
  let next = first;
  return () => id(next++);
}

export function tagOf(member: number, item: number): string {
  const made = makeTag(member, item, 8);
  if (!made.ok) throw new Error(made.problem.detail);
  return made.value;
}

export function pieceOf(item: number, change: Partial<CatalogueItem> = {}): CatalogueItem {
  return {
    id: id(10_000 + item),
    tag: tagOf(104, item),
    description: "Indigo scarf",
    size: "",
    memberNumber: 104,
    price: 4_500,
    onFloor: 1,
    entered: 1,
    piecesInSet: 1,
    taxKind: "clothing",
    donated: false,
    markdown: false,
    state: "on-floor",
    sold: null,
    ...change,
  };
}

/** A till in the middle of a sale: 8.25 % of tax on top, no markdown, cash to the cent. */
export function sceneOf(sale: Partial<TillSceneShown["sale"]> = {}): TillSceneShown {
  return {
    till: { id: id(1), number: 2, name: "By the door" },
    sale: {
      id: id(2),
      name: "Autumn sale",
      stage: "selling",
      tax: flatTax(8_250, "Sales tax"),
      cashStep: 1,
      cashFives: "up",
      markdownRate: 0,
      markdownFrom: null,
      receiptFooter: "Returns within 14 days with this receipt.",
      ...sale,
    },
    guild: {
      name: "Guild of the test",
      address: "1 Loom Lane\nShuttleton",
      currency: "USD",
      locale: "en-US",
      timeZone: "America/New_York",
      tagLength: 8,
    },
    session: { id: id(3), float: 10_000, openedAt: "2026-11-25T14:00:00Z", openedBy: "Ada" },
    lastNumber: 6,
    goods: [
      { id: id(4), name: "Cloth bag", kind: "goods", price: 200, taxKind: "goods", position: 1 },
      { id: id(5), name: "Raffle ticket", kind: "goods", price: 100, taxKind: "", position: 2 },
      { id: id(6), name: "Gift", kind: "donation", price: null, taxKind: "", position: 3 },
    ],
    cashiers: [{ id: id(7), name: "Wren Adder", number: 12, pinHash: "1$a$b" }],
    mail: true,
  };
}

export const seller = { sessionId: id(3), cashierId: id(7) };
export const noon = new Date("2026-11-25T17:00:00Z");
