import { type Deed, perform } from "../../database/perform.ts";
import { findShift } from "../../database/shifts.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import type { Mark } from "../../rules/shifts/shift-words.ts";
import { changedMeanwhile } from "../sale-lock.ts";
import { saleForShifts } from "./shift-scene.ts";

export interface Tick {
  shiftId: string;
  mark: Mark | "open";
  /** The minutes really worked; `null` unless it was worked. */
  minutes: number | null;
  /** The version that was on the screen. */
  version: number;
}

/**
 * Ticks a shift as worked or missed, or takes the tick off. It may be put right until the sale is
 * closed: after a settlement the next one shows the difference. The audit list keeps every tick.
 */
export const tickShift = (
  deed: Deed,
  given: Tick,
  now: Date,
): Promise<Result<{ id: string; version: number }>> =>
  perform(deed, "tick-shift", given, async (tx) => {
    const { shiftId, mark, minutes, version } = given;
    const shift = await findShift(tx, shiftId);
    if (!shift) return refuse("not-found", "There is no such shift, or it was withdrawn.");
    const sale = await saleForShifts(tx, shift.saleId);
    if (!sale.ok) return sale;
    const ticked = mark !== "open";
    const changed = await tx.shift.updateMany({
      where: { id: shiftId, version, withdrawnAt: null },
      data: {
        mark: ticked ? mark : null,
        minutesWorked: minutes,
        markedById: ticked ? deed.actor.id : null,
        markedAt: ticked ? now : null,
        version: { increment: 1 },
      },
    });
    if (changed.count === 0) return changedMeanwhile();
    const { memberNumber: member, task } = shift;
    return ok({
      value: { id: shiftId, version: version + 1 },
      subjectId: shiftId,
      detail: { member, task, mark, ...(minutes === null ? {} : { minutes }) },
    });
  });
