import { type Deed, perform } from "../../database/perform.ts";
import { ok, problem, type Result, refuse } from "../../rules/problem.ts";
import { type Adjusted, saleToAdjust, writeAdjustment } from "./write-adjustment.ts";

const takenBack = () =>
  problem("already-done", "This adjustment has been taken back already. Nothing was done twice.");

/**
 * Takes an adjustment back by its opposite, with a reason of its own. Neither is ever deleted: both
 * stand in the books, and a statement that shows the first stays as it is.
 */
export const takeBackAdjustment = (
  deed: Deed,
  given: { adjustmentId: string; reason: string },
): Promise<Result<Adjusted>> =>
  perform(
    deed,
    "take-back-adjustment",
    given,
    async (tx) => {
      const first = await tx.adjustment.findUnique({
        where: { id: given.adjustmentId },
        include: { member: true, takenBack: true },
      });
      if (!first) return refuse("not-found", "There is no such adjustment.");
      const may = await saleToAdjust(tx, first.saleId);
      if (!may.ok) return may;
      if (first.takenBack) return { ok: false, problem: takenBack() };
      if (first.takesBackId)
        return refuse("already-done", "This takes another one back. Record a new adjustment.");
      const { saleId, member } = first;
      const [amount, takesBackId] = [0 - Number(first.amount), first.id];
      const row = { saleId, member, amount, reason: given.reason, byId: deed.actor.id };
      const value = await writeAdjustment(tx, { ...row, takesBackId });
      const detail = { member: member.number, amount, reason: given.reason };
      return ok({ value, subjectId: value.id, detail });
    },
    { adjustment_takes_back_id_key: takenBack },
  );
