import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result } from "../rules/problem.ts";
import { type SeveralTags, withUnknown } from "./check-in-items.ts";
import { cannotGoHome, type DeskTally, tallyOrRefuse } from "./desk-goods.ts";
import { lockItems } from "./lock-rows.ts";
import { openForPickUp, recordPickUps } from "./pick-up-item.ts";

/** Hands back all that was ticked on a member's list of unsold pieces, after the sale. */
export const pickUpItems = (deed: Deed, given: SeveralTags): Promise<Result<DeskTally>> =>
  perform(deed, "pick-up-items", given, async (tx) => {
    const sale = await openForPickUp(tx, given.saleId, "");
    if (!sale.ok) return sale;
    const tally: DeskTally = { done: [], refused: [] };
    const items = await lockItems(tx, given.tags);
    for (const item of items.filter(({ saleId }) => saleId === given.saleId)) {
      const { id: itemId, tag, onFloor: quantity } = item;
      const gone = quantity === 0 ? cannotGoHome(item).problem : undefined;
      if (!gone) tally.done.push({ itemId, tag, quantity });
      else tally.refused.push({ tag, code: gone.code, detail: gone.detail });
    }
    await recordPickUps(tx, deed.actor.id, tally.done, "");
    const value = tallyOrRefuse(withUnknown(tally, given.tags));
    if (!value.ok) return value;
    return ok({ value: value.value, subjectId: given.saleId, detail: value.value });
  });
