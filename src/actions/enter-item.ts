import { type Deed, perform } from "../database/perform.ts";
import type { ItemDetails } from "../rules/item.ts";
import { ok, type Result } from "../rules/problem.ts";
import { type Entered, type Entry, writeItems } from "./write-items.ts";

export interface EnterItem extends Omit<Entry, "items"> {
  item: ItemDetails;
}

/** A member enters one item for a sale and gets its tag number at once. */
export const enterItem = (deed: Deed, given: EnterItem, now: Date): Promise<Result<Entered>> =>
  perform(deed, "enter-item", given, async (tx) => {
    const { item, ...entry } = given;
    const written = await writeItems(tx, deed.actor, { ...entry, items: [item] }, now);
    if (!written.ok) return written;
    const value = written.value[0]!;
    return ok({ value, subjectId: value.id, detail: { tag: value.tag, saleId: given.saleId } });
  });
