import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse, refuseField } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { shareSale } from "../lock-rows.ts";
import { lockTime } from "./plan-times.ts";

export interface PickedTime {
  saleId: string;
  timeId: string | null;
}

/**
 * A member picks a time to bring pieces, another one, or none. The time's row is held while its
 * places are counted, so of two who want the last place one gets it.
 */
export const pickCheckInTime = (
  deed: Deed,
  picked: PickedTime,
  now: Date,
): Promise<Result<PickedTime>> =>
  perform(deed, "pick-check-in-time", picked, async (tx) => {
    const { saleId, timeId } = picked;
    const sale = await shareSale(tx, saleId);
    if (!sale.ok) return sale;
    if (!allows(sale.value.stage, "pick-check-in"))
      return refuse("stage-closed", "No check-in time can be picked at this stage of the sale.");
    const memberId = deed.actor.id;
    if (timeId === null) await tx.checkInChoice.deleteMany({ where: { saleId, memberId } });
    else {
      const taken = await take(tx, { saleId, timeId, memberId }, now);
      if (!taken.ok) return taken;
    }
    const chosen = timeId === null ? "none" : "a time";
    return ok({ value: picked, subjectId: saleId, detail: { chosen } });
  });

async function take(
  tx: Transaction,
  { saleId, timeId, memberId }: { saleId: string; timeId: string; memberId: string },
  now: Date,
): Promise<Result<undefined>> {
  const locked = await lockTime(tx, timeId);
  if (locked?.time.saleId !== saleId)
    return refuseField("timeId", "This time is off the list. Pick another one.");
  if (locked.time.startsAt <= now)
    return refuseField("timeId", "This time has begun. Pick a later one, or ask the desk.");
  const mine = await tx.checkInChoice.findFirst({ where: { saleId, memberId, timeId } });
  if (mine) return ok(undefined);
  if (locked.taken >= locked.time.places)
    return refuse("limit-reached", "This time has filled up meanwhile. Pick another one.", [
      { field: "timeId", message: "This time has filled up meanwhile. Pick another one." },
    ]);
  await tx.$executeRaw`
    INSERT INTO check_in_choice (sale_id, member_id, time_id)
    VALUES (${saleId}::uuid, ${memberId}::uuid, ${timeId}::uuid)
    ON CONFLICT (sale_id, member_id) DO UPDATE SET time_id = EXCLUDED.time_id, chosen_at = now()`;
  return ok(undefined);
}
