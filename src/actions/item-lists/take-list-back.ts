import type { Transaction } from "../../database/client.ts";
import { type Actor, type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { helpsOthers, withinLimits } from "../entry-rules.ts";
import { type LockedItem, lockItems, lockMember, shareSale } from "../lock-rows.ts";

export interface TakenBack {
  tags: string[];
  /** Entries of the list that stay as they are. */
  kept: number;
}

/** Withdraws every entry of a list that has not come to the desk: the others stay as they are. */
export const takeListBack = (
  deed: Deed,
  given: { listId: string },
  now: Date,
): Promise<Result<TakenBack>> =>
  perform(deed, "take-list-back", given, async (tx) => {
    const list = await hold(tx, deed.actor, given.listId);
    if (!list.ok) return list;
    const items = await lockItems(tx, list.value.tags);
    const came = await checkedIn(tx, items);
    const open = items.filter(
      (item) => item.withdrawnAt === null && item.withMember === item.entered && !came.has(item.id),
    );
    if (open.length === 0)
      return refuse(
        "already-done",
        "Every piece of this list is withdrawn or with the desk already. Nothing was changed.",
      );
    const ids = open.map(({ id }) => id);
    await tx.item.updateMany({
      where: { id: { in: ids } },
      data: { withdrawnAt: now, version: { increment: 1 } },
    });
    await tx.itemListPiece.updateMany({
      where: { itemId: { in: ids } },
      data: { takenBackAt: now },
    });
    return done(given.listId, open, items.length - open.length);
  });

/** Puts back what was withdrawn together with the list, and not what was withdrawn by itself. */
export const putListBack = (deed: Deed, given: { listId: string }): Promise<Result<TakenBack>> =>
  perform(deed, "put-list-back", given, async (tx) => {
    const list = await hold(tx, deed.actor, given.listId);
    if (!list.ok) return list;
    const { sale, memberId, tags, takenBackAt, kindIds } = list.value;
    await lockMember(tx, memberId);
    const items = await lockItems(tx, tags);
    const elsewhere = await enteredElsewhere(tx, sale.id, items);
    const back = items.filter(
      ({ id, withdrawnAt }) =>
        !elsewhere.has(id) &&
        withdrawnAt !== null &&
        withdrawnAt.getTime() === takenBackAt.get(id)?.getTime(),
    );
    if (back.length === 0)
      return refuse(
        "already-done",
        "Nothing of this list can be put back: its pieces stand already, here or under other tags.",
      );
    const added = back.map(({ id }) => ({ kindId: kindIds.get(id) ?? "", prefix: "" }));
    const room = await withinLimits(tx, sale, memberId, added);
    if (!room.ok) return room;
    const ids = back.map(({ id }) => id);
    await tx.item.updateMany({
      where: { id: { in: ids } },
      data: { withdrawnAt: null, version: { increment: 1 } },
    });
    await tx.itemListPiece.updateMany({
      where: { itemId: { in: ids } },
      data: { takenBackAt: null },
    });
    return done(given.listId, back, items.length - back.length);
  });

const done = (listId: string, items: readonly LockedItem[], kept: number) => {
  const tags = items.map(({ tag }) => tag).sort();
  return ok({ value: { tags, kept }, subjectId: listId, detail: { tags, kept } });
};

/** The list and its sale, which is still at a stage where entries come and go. */
async function hold(tx: Transaction, actor: Actor, listId: string) {
  const list = await tx.itemList.findFirst({
    where: { id: listId, ...(helpsOthers(actor) ? {} : { memberId: actor.id }) },
  });
  if (!list) return refuse("not-found", "There is no such list among yours. Nothing was changed.");
  const sale = await shareSale(tx, list.saleId);
  if (!sale.ok) return sale;
  if (!allows(sale.value.stage, "withdraw-item"))
    return refuse("stage-closed", `${sale.value.name} is over for entries. Nothing was changed.`);
  const pieces = await tx.itemListPiece.findMany({
    where: { listId },
    select: { itemId: true, takenBackAt: true, item: { select: { tag: true, kindId: true } } },
  });
  return ok({
    ...{ sale: sale.value, memberId: list.memberId },
    tags: pieces.map(({ item }) => item.tag),
    kindIds: new Map(pieces.map(({ itemId, item }) => [itemId, item.kindId])),
    takenBackAt: new Map(pieces.map(({ itemId, takenBackAt }) => [itemId, takenBackAt])),
  });
}

async function checkedIn(tx: Transaction, items: readonly LockedItem[]): Promise<Set<string>> {
  const moves = await tx.movement.findMany({
    where: { itemId: { in: items.map(({ id }) => id) }, kind: "checked-in" },
    select: { itemId: true },
  });
  return new Set(moves.map(({ itemId }) => itemId));
}

/** Those whose piece of an earlier sale stands in this sale under another tag by now. */
async function enteredElsewhere(
  tx: Transaction,
  saleId: string,
  items: readonly LockedItem[],
): Promise<Set<string>> {
  const again = await tx.itemAgain.findMany({
    where: {
      itemId: { in: items.map(({ id }) => id) },
      earlier: { enteredAgain: { some: { item: { saleId, withdrawnAt: null } } } },
    },
    select: { itemId: true },
  });
  return new Set(again.map(({ itemId }) => itemId));
}
