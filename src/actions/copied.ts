import type { Transaction } from "../database/client.ts";
import type { Fibre } from "../rules/fibre.ts";
import type { ItemDetails } from "../rules/item.ts";
import { wholeDetails } from "../rules/labels/details.ts";

interface Kept extends Omit<ItemDetails, "kind" | "price" | "fibres" | "label"> {
  kind: { code: string };
  price: bigint;
  fibres: unknown;
  labelDetails: unknown;
}

/** What a member said about an item, to be said again about its copy. */
export const detailsOf = ({ kind, price, fibres, labelDetails, ...row }: Kept): ItemDetails => ({
  kind: kind.code,
  description: row.description,
  technique: row.technique,
  fibres: fibres as Fibre[],
  size: row.size,
  colours: row.colours,
  label: wholeDetails(labelDetails as object),
  price: Number(price),
  quantity: row.quantity,
  piecesInSet: row.piecesInSet,
  donated: row.donated,
  markdown: row.markdown,
});

export interface Copied {
  id: string;
  earlierId: string;
}

/** What a piece took to make holds for its copy as well. */
export async function copyMakings(tx: Transaction, copies: readonly Copied[]): Promise<void> {
  const earlier = copies.map(({ earlierId }) => earlierId);
  const makings = await tx.itemMaking.findMany({ where: { itemId: { in: earlier } } });
  const data = makings.flatMap(({ itemId, ...making }) =>
    copies
      .filter(({ earlierId }) => earlierId === itemId)
      .map(({ id }) => ({ ...making, itemId: id })),
  );
  if (data.length > 0) await tx.itemMaking.createMany({ data });
}

/** Keeps which piece is meant by the new entry, so that nobody enters it twice. */
export const noteAgain = (tx: Transaction, copies: readonly Copied[]) =>
  tx.itemAgain.createMany({
    data: copies.map(({ id, earlierId }) => ({ itemId: id, earlierId })),
  });
