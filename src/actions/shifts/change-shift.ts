import type { ShiftChange } from "../../contract/shift.ts";
import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import type { SaleRead } from "../../database/sales.ts";
import { findShift, type ShiftRead } from "../../database/shifts.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { changedMeanwhile } from "../sale-lock.ts";
import { judgeShift, lockMembers, saleForShifts, shiftScene } from "./shift-scene.ts";

type Changed = Promise<Result<{ id: string; version: number }>>;

/** Plans a shift anew: another member, time, task or stand-in. What is ticked keeps its plan. */
export const changeShift = (deed: Deed, shiftId: string, change: ShiftChange): Changed =>
  perform(deed, "change-shift", { shiftId, change }, async (tx) => {
    const open = await openShift(tx, shiftId);
    if (!open.ok) return open;
    const { version, ...input } = change;
    await lockMembers(tx, [input.member]);
    const scene = await shiftScene(tx, open.value.sale, [input.member]);
    const planned = judgeShift(scene, input, shiftId);
    if (!planned.ok) return planned;
    const changed = await tx.shift.updateMany({
      where: { id: shiftId, version, withdrawnAt: null, mark: null },
      data: { ...planned.value, version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    const { member, day, start, end, task } = input;
    return ok({
      value: { id: shiftId, version: version + 1 },
      subjectId: shiftId,
      detail: { member, day, start, end, task },
    });
  });

/** Takes a planned shift off the list. It is kept, with who planned it, and counts for nothing. */
export const withdrawShift = (
  deed: Deed,
  given: { shiftId: string; version: number },
): Promise<Result<{ id: string; version: number }>> =>
  perform(deed, "withdraw-shift", given, async (tx) => {
    const open = await openShift(tx, given.shiftId);
    if (!open.ok) return open;
    const { memberNumber, task } = open.value.shift;
    const changed = await tx.shift.updateMany({
      where: { id: given.shiftId, version: given.version, withdrawnAt: null, mark: null },
      data: { withdrawnAt: new Date(), version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    return ok({
      value: { id: given.shiftId, version: given.version + 1 },
      subjectId: given.shiftId,
      detail: { member: memberNumber, task },
    });
  });

/** A shift whose plan may still change, with its sale kept at its stage. */
async function openShift(
  tx: Transaction,
  id: string,
): Promise<Result<{ sale: SaleRead; shift: ShiftRead }>> {
  const found = await findShift(tx, id);
  if (!found) return refuse("not-found", "There is no such shift, or it was withdrawn.");
  const sale = await saleForShifts(tx, found.saleId);
  if (!sale.ok) return sale;
  const shift = await findShift(tx, id);
  if (!shift) return changedMeanwhile();
  if (shift.mark !== null)
    return refuse(
      "already-done",
      `It is ticked as ${shift.mark}. Take the tick off first if the plan was wrong.`,
    );
  return ok({ sale: sale.value, shift });
}
