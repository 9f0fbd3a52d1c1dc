import type { CatalogueItem } from "../../../contract/till-device.ts";
import type { ReceiptFact } from "../../../contract/till-fact.ts";
import { showReceiptNumber } from "../../../rules/receipt-number.ts";

/** What this till's receipts did to one tag and the server's list does not count yet. */
export interface OwnPieces {
  /** Added to the pieces on the floor: below zero for what was sold. */
  pieces: number;
  lastSold?: NonNullable<CatalogueItem["sold"]>;
}

/** Per tag, in the order in which the receipts were made. */
export function ownPieces(
  receipts: readonly ReceiptFact[],
  till: number,
): ReadonlyMap<string, OwnPieces> {
  const byTag = new Map<string, OwnPieces>();
  for (const receipt of receipts.toSorted((a, b) => a.number - b.number))
    for (const line of receipt.lines) {
      if (line.tag === "") continue;
      const before = byTag.get(line.tag) ?? { pieces: 0 };
      // A piece that goes home with its weaver left the buyer, yet it is not on the floor.
      const pieces = before.pieces - (line.goesTo === "member" ? 0 : line.quantity);
      const lastSold =
        line.quantity > 0
          ? { till, receipt: showReceiptNumber(till, receipt.number), at: receipt.madeAt }
          : before.lastSold;
      byTag.set(line.tag, { pieces, lastSold });
    }
  return byTag;
}

/** A piece of the server's list as it stands after this till's own receipts. */
export function withOwn(item: CatalogueItem, own: OwnPieces | undefined): CatalogueItem {
  if (!own) return item;
  const onFloor = Math.max(0, item.onFloor + own.pieces);
  const sold = own.lastSold ?? item.sold;
  if (onFloor > 0) return { ...item, onFloor, state: "on-floor", sold };
  const state = item.state === "on-floor" ? "sold" : item.state;
  return { ...item, onFloor, state, sold };
}
