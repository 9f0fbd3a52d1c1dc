import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { lockItem, shareSale } from "./lock-rows.ts";
import { ownItem } from "./own-item.ts";

/** Takes an entry back before its piece has come. The tag number stays and is never used again. */
export const withdrawItem = (
  deed: Deed,
  given: { itemId: string },
  now: Date,
): Promise<Result<{ id: string; withdrawnAt: string }>> =>
  perform(deed, "withdraw-item", given, async (tx) => {
    const own = await ownItem(tx, deed.actor, given.itemId);
    if (!own.ok) return own;
    const sale = await shareSale(tx, own.value.saleId);
    if (!sale.ok) return sale;
    if (!allows(sale.value.stage, "withdraw-item"))
      return refuse("stage-closed", `${sale.value.name} is over for entries. Nothing was changed.`);
    const item = await lockItem(tx, own.value.tag);
    if (item.withdrawnAt) return refuse("already-done", "This entry is withdrawn already.");
    if (item.withMember < item.entered)
      return refuse(
        "checked-in",
        "It was not withdrawn. To get it back, ask the desk for the piece.",
      );
    await tx.item.update({
      where: { id: item.id },
      data: { withdrawnAt: now, version: { increment: 1 } },
    });
    return ok({
      value: { id: item.id, withdrawnAt: now.toISOString() },
      subjectId: item.id,
      detail: { tag: item.tag },
    });
  });
