import { v7 } from "uuid";
import type { Transaction } from "../../database/client.ts";
import type { Entered } from "../write-items.ts";

interface NewList {
  memberId: string;
  saleId: string;
  source: "spreadsheet" | "unsold";
  leftOut: number;
  now: Date;
}

/** Notes which entries came together, and in which row each of them stood. */
export async function writeList(
  tx: Transaction,
  { now, ...list }: NewList,
  pieces: readonly (Pick<Entered, "id"> & { row: number })[],
): Promise<string> {
  const id = v7();
  await tx.itemList.create({ data: { id, ...list, enteredAt: now } });
  await tx.itemListPiece.createMany({
    data: pieces.map(({ id: itemId, row }) => ({ itemId, listId: id, row })),
  });
  return id;
}
