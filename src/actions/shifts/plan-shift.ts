import { v7 } from "uuid";
import type { ShiftInput } from "../../contract/shift.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result } from "../../rules/problem.ts";
import { judgeShift, lockMembers, saleForShifts, shiftScene } from "./shift-scene.ts";

/** Plans one shift of a member at a sale. */
export const planShift = (
  deed: Deed,
  saleId: string,
  input: ShiftInput,
): Promise<Result<{ id: string; version: number }>> =>
  perform(deed, "plan-shift", { saleId, input }, async (tx) => {
    const sale = await saleForShifts(tx, saleId);
    if (!sale.ok) return sale;
    await lockMembers(tx, [input.member]);
    const planned = judgeShift(await shiftScene(tx, sale.value, [input.member]), input);
    if (!planned.ok) return planned;
    const id = v7();
    await tx.shift.create({ data: { id, saleId, byId: deed.actor.id, ...planned.value } });
    const { member, day, start, end, task } = input;
    return ok({
      value: { id, version: 1 },
      subjectId: id,
      detail: { member, day, start, end, task },
    });
  });
