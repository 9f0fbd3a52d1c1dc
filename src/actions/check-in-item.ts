import type { Transaction } from "../database/client.ts";
import { findLabel } from "../database/labels.ts";
import { type Deed, perform } from "../database/perform.ts";
import type { SaleRead } from "../database/sales.ts";
import { moveOf } from "../rules/movement.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { cannotComeIn, lockByTag, named, wanted } from "./desk-goods.ts";
import { type LockedItem, shareSale } from "./lock-rows.ts";

export interface CheckIn {
  saleId: string;
  /** As scanned or typed. */
  tag: string;
  decision: "accepted" | "turned-away";
  /** Without it, all the pieces that are still with the member. */
  quantity?: number;
  /** The helper has looked at the piece, as its cautions ask. */
  looked?: boolean;
  /** Needed to turn a piece away: the member reads it. */
  reason: string;
}

export interface CheckedIn {
  itemId: string;
  tag: string;
  decision: CheckIn["decision"];
  quantity: number;
}

/** The desk takes a piece in, or turns it away with a reason. */
export const checkInItem = (deed: Deed, given: CheckIn): Promise<Result<CheckedIn>> =>
  perform(deed, "check-in-item", given, async (tx) => {
    const { decision, reason } = given;
    const sale = await openForCheckIn(tx, given.saleId);
    if (!sale.ok) return sale;
    const item = await lockByTag(tx, sale.value, given.tag);
    if (!item.ok) return item;
    if (decision === "turned-away" && reason === "")
      return refuseField("reason", "Say why it is turned away, so that the member knows.");
    const ready = await mayComeIn(tx, item.value);
    if (!ready.ok) return ready;
    if (decision === "turned-away" && (await turnedAway(tx, item.value)))
      return refuse("already-done", `${named(item.value)} has been turned away already.`);
    const cautious =
      decision === "accepted" ? await mindCautions(tx, item.value, given.looked) : ok(true);
    if (!cautious.ok) return cautious;
    const quantity = wanted(item.value.withMember, given.quantity, "still to come");
    if (!quantity.ok) return quantity;
    const row = { itemId: item.value.id, decision, quantity: quantity.value };
    await recordDecisions(tx, deed.actor.id, [row], reason);
    const { tag } = item.value;
    return ok({ value: { ...row, tag }, subjectId: row.itemId, detail: { ...row, tag, reason } });
  });

export async function openForCheckIn(tx: Transaction, saleId: string): Promise<Result<SaleRead>> {
  const sale = await shareSale(tx, saleId);
  if (!sale.ok || allows(sale.value.stage, "check-in")) return sale;
  const early = ["planning", "entries-open"].includes(sale.value.stage);
  return refuse(
    "stage-closed",
    early
      ? `Check-in for ${sale.value.name} starts when the chair closes the entries. Nothing was recorded.`
      : `Check-in for ${sale.value.name} is over. Nothing was recorded.`,
  );
}

export async function mayComeIn(tx: Transaction, item: LockedItem): Promise<Result<true>> {
  if (item.withdrawnAt)
    return refuse(
      "withdrawn",
      `The entry of ${named(item)} was withdrawn. If it comes after all, put it back on the member's list first.`,
    );
  return item.withMember > 0 ? ok(true) : cannotComeIn(tx, item);
}

/**
 * A piece that is to be held comes in only after somebody has looked; one that may not be sold
 * does not come in at all, unless the answer was wrong and is changed first.
 */
export async function mindCautions(
  tx: Transaction,
  item: LockedItem,
  looked = false,
): Promise<Result<true>> {
  const { caution } = await findLabel(tx, item.id);
  const tells = caution.desk.join(" ");
  if (caution.outcome === "refuse")
    return refuse("look-first", `${named(item)} is not taken in. ${tells}`);
  if (caution.outcome === "hold" && !looked)
    return refuse("look-first", `${named(item)} is held. ${tells}`);
  return ok(true);
}

async function turnedAway(tx: Transaction, item: LockedItem): Promise<boolean> {
  const last = await tx.checkIn.findFirst({
    where: { itemId: item.id },
    orderBy: { id: "desc" },
  });
  return last?.decision === "turned-away";
}

export type Decision = Pick<CheckedIn, "itemId" | "decision" | "quantity">;

/** Keeps what the desk decided, and moves what it took in to the floor. */
export async function recordDecisions(
  tx: Transaction,
  byId: string,
  decisions: readonly Decision[],
  reason = "",
): Promise<void> {
  await tx.checkIn.createMany({ data: decisions.map((row) => ({ ...row, reason, byId })) });
  await tx.movement.createMany({
    data: decisions
      .filter(({ decision }) => decision === "accepted")
      .map(({ itemId, quantity }) => ({
        ...{ itemId, quantity, byId },
        ...moveOf("checked-in"),
      })),
  });
}
