import "fake-indexeddb/auto";
import type { Unnumbered } from "../../../src/browser/till/sell/sale-fact.ts";
import { openKept } from "../../../src/browser/till/start/open-parts.ts";
import type { CatalogueDelta, CatalogueItem } from "../../../src/contract/till-device.ts";
import { idsFrom, noon, sceneOf, seller } from "../../support/till-scene.ts";

let shelves = 0;

/** A name that no other test of this file uses. */
export const freshName = (): string => `shelf-${++shelves}`;

export const newId = idsFrom(50_000);

/** Everything a till keeps, ready to sell; the same name again is the same till after a crash. */
export async function openTestTill(name = freshName()) {
  const till = await openKept(name, () => {});
  if (!till.scene.known()) await till.scene.keep(sceneOf());
  return till;
}

export const listOf = (
  items: CatalogueItem[],
  cursor: string,
  changesOnly = true,
): CatalogueDelta => ({ items, cursor, changesOnly, at: noon.toISOString() });

/** A paid sale of tags, or what `more` makes of it. */
export function receiptOf(
  tags: readonly string[],
  more: Partial<Unnumbered> = {},
  quantity = 1,
): Unnumbered {
  const amount = 1_000 * tags.length * quantity;
  return {
    id: newId(),
    madeAt: noon.toISOString(),
    tillSessionId: seller.sessionId,
    cashierId: seller.cashierId,
    kind: "sale",
    reversesId: null,
    exchangeId: null,
    reason: "",
    exemption: "",
    lines: tags.map((tag) => ({
      id: newId(),
      kind: "item",
      tag,
      goodsId: null,
      description: "Indigo scarf",
      memberNumber: 104,
      quantity,
      unitPrice: 1_000,
      discount: 0,
      amount: 1_000 * quantity,
      tax: 0,
      taxInside: 0,
      taxKind: "scarf",
      donated: false,
      priceReason: "",
      reversesLineId: null,
      goesTo: null,
    })),
    taxes: [],
    tenders: [{ kind: "cash", amount, reference: "" }],
    subtotal: amount,
    tax: 0,
    total: amount,
    rounding: 0,
    cashGiven: amount,
    change: 0,
    ...more,
  };
}
