import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { withinLimits } from "./entry-rules.ts";
import { lockItem, lockMember, shareSale } from "./lock-rows.ts";
import { ownItem } from "./own-item.ts";

/** Undoes a withdrawal, as long as the limits of the sale still have room for the item. */
export const putBackItem = (
  deed: Deed,
  given: { itemId: string },
): Promise<Result<{ id: string }>> =>
  perform(deed, "put-back-item", given, async (tx) => {
    const own = await ownItem(tx, deed.actor, given.itemId);
    if (!own.ok) return own;
    const sale = await shareSale(tx, own.value.saleId);
    if (!sale.ok) return sale;
    if (!allows(sale.value.stage, "withdraw-item"))
      return refuse("stage-closed", `${sale.value.name} is over for entries. Nothing was changed.`);
    await lockMember(tx, own.value.memberId);
    const item = await lockItem(tx, own.value.tag);
    if (!item.withdrawnAt) return refuse("already-done", "This entry stands already.");
    const added = [{ kindId: own.value.kindId, prefix: "" }];
    const room = await withinLimits(tx, sale.value, item.memberId, added);
    if (!room.ok) return room;
    await tx.item.update({
      where: { id: item.id },
      data: { withdrawnAt: null, version: { increment: 1 } },
    });
    return ok({ value: { id: item.id }, subjectId: item.id, detail: { tag: item.tag } });
  });
