import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { changedMeanwhile, lockSale } from "../sale-lock.ts";

/** Says how many days before entries end members are reminded; no day for not at all. */
export const setReminders = (
  deed: Deed,
  input: { saleId: string; days: readonly number[]; version: number },
): Promise<Result<{ days: number[]; version: number }>> =>
  perform(deed, "set-reminders", input, async (tx) => {
    const sale = await lockSale(tx, input.saleId);
    if (!sale.ok) return sale;
    if (!allows(sale.value.stage, "edit-sale"))
      return refuse("stage-closed", "This sale is closed. What is written about it stays.");
    if (sale.value.version !== input.version) return changedMeanwhile();
    const days = [...new Set(input.days)].sort((a, b) => b - a);
    await tx.sale.update({
      where: { id: input.saleId },
      data: { reminderDays: days, version: { increment: 1 } },
    });
    const value = { days, version: input.version + 1 };
    return ok({ value, subjectId: input.saleId, detail: { days } });
  });
