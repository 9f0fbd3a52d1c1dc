import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { unsoldOf } from "../../database/unsold.ts";
import type { ItemDetails } from "../../rules/item.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { showTag } from "../../rules/tag-number.ts";
import { copyMakings, detailsOf, noteAgain } from "../copied.ts";
import { lockMember, shareSale } from "../lock-rows.ts";
import { type Entered, writeItems } from "../write-items.ts";
import { writeList } from "./write-list.ts";

export interface EnterAgain {
  saleId: string;
  items: { itemId: string; price?: number | undefined }[];
  agreementVersion?: number | undefined;
}

export interface AgainEntered {
  listId: string;
  entered: (Entered & { earlierId: string })[];
}

/** Enters pieces that came home from earlier sales again: all under new tags, or none. */
export const enterAgain = (
  deed: Deed,
  given: EnterAgain,
  now: Date,
): Promise<Result<AgainEntered>> =>
  perform(deed, "enter-again", given, async (tx) => {
    const memberId = deed.actor.id;
    const { saleId, agreementVersion } = given;
    const sale = await shareSale(tx, saleId);
    if (!sale.ok) return sale;
    await lockMember(tx, memberId);
    const items = await wanted(tx, memberId, given);
    if (!items.ok) return items;
    const entry = {
      ...{ saleId, memberId, items: items.value },
      ...(agreementVersion === undefined ? {} : { agreementVersion }),
    };
    const written = await writeItems(tx, deed.actor, entry, now, (index) => `items.${index}.`);
    if (!written.ok) return written;
    const entered = written.value.map((one, index) => ({
      ...{ ...one, row: index + 1 },
      earlierId: given.items[index]!.itemId,
    }));
    await copyMakings(tx, entered);
    await noteAgain(tx, entered);
    const source = "unsold" as const;
    const listId = await writeList(tx, { memberId, saleId, source, leftOut: 0, now }, entered);
    const tags = entered.map(({ tag }) => tag);
    const told = entered.map(({ row: _row, ...one }) => one);
    return ok({
      value: { listId, entered: told },
      subjectId: memberId,
      detail: { tags, saleId, listId },
    });
  });

/** The pieces as they are entered now: as many as came home, at the new price where one is given. */
async function wanted(
  tx: Transaction,
  memberId: string,
  { saleId, items }: EnterAgain,
): Promise<Result<ItemDetails[]>> {
  const ids = items.map(({ itemId }) => itemId);
  if (new Set(ids).size < ids.length)
    return refuse("invalid-input", "A piece stands in the list twice. Nothing was entered.");
  const found = await tx.item.findMany({
    where: { ...unsoldOf(memberId, saleId), id: { in: ids } },
    include: {
      kind: true,
      count: true,
      enteredAgain: {
        where: { item: { saleId, withdrawnAt: null } },
        select: { item: { select: { tag: true } } },
      },
    },
  });
  const byId = new Map(found.map((item) => [item.id, item]));
  const details: ItemDetails[] = [];
  for (const { itemId, price } of items) {
    const item = byId.get(itemId);
    if (!item)
      return refuse(
        "not-found",
        "One of these pieces is not among your unsold ones. Nothing was entered.",
      );
    const again = item.enteredAgain[0]?.item.tag;
    if (again)
      return refuse(
        "already-done",
        `${item.description} is entered again already, as ${showTag(again)}. Nothing was entered.`,
      );
    const whole = detailsOf(item);
    details.push({
      ...whole,
      price: price ?? whole.price,
      quantity: item.count?.withMember ?? whole.quantity,
    });
  }
  return ok(details);
}
