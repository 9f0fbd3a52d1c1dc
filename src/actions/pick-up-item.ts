import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import type { SaleRead } from "../database/sales.ts";
import { moveOf } from "../rules/movement.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { cannotGoHome, lockByTag, wanted } from "./desk-goods.ts";
import { shareSale } from "./lock-rows.ts";

export interface PickUp {
  saleId: string;
  /** As scanned or typed. */
  tag: string;
  /** Without it, all the pieces that are on the floor. */
  quantity?: number;
  /** Needed before the sale is over: why a piece goes back now. */
  reason: string;
}

export interface PickedUp {
  itemId: string;
  tag: string;
  quantity: number;
}

/** Unsold pieces go home after the sale; before that the desk may hand one back with a reason. */
export const pickUpItem = (deed: Deed, given: PickUp): Promise<Result<PickedUp>> =>
  perform(deed, "pick-up-item", given, async (tx) => {
    const { reason } = given;
    const sale = await openForPickUp(tx, given.saleId, reason);
    if (!sale.ok) return sale;
    const item = await lockByTag(tx, sale.value, given.tag);
    if (!item.ok) return item;
    const { id: itemId, tag, onFloor } = item.value;
    if (onFloor === 0) return cannotGoHome(item.value);
    const quantity = wanted(onFloor, given.quantity, "on the floor");
    if (!quantity.ok) return quantity;
    await recordPickUps(tx, deed.actor.id, [{ itemId, quantity: quantity.value }], reason);
    const value = { itemId, tag, quantity: quantity.value };
    return ok({ value, subjectId: itemId, detail: { ...value, reason } });
  });

export async function openForPickUp(
  tx: Transaction,
  saleId: string,
  reason: string,
): Promise<Result<SaleRead>> {
  const sale = await shareSale(tx, saleId);
  if (!sale.ok || allows(sale.value.stage, "pick-up")) return sale;
  if (!allows(sale.value.stage, "give-back"))
    return refuse(
      "stage-closed",
      `No piece of ${sale.value.name} is handed back at this stage. Nothing was recorded.`,
    );
  if (reason !== "") return sale;
  return refuseField("reason", "The sale is not over: say why the piece goes back to the member.");
}

export async function recordPickUps(
  tx: Transaction,
  byId: string,
  rows: readonly { itemId: string; quantity: number }[],
  reason: string,
): Promise<void> {
  await tx.movement.createMany({
    data: rows.map(({ itemId, quantity }) => ({
      ...{ itemId, quantity, reason, byId },
      ...moveOf("picked-up"),
    })),
  });
}
