import type { MoveInput } from "../contract/sale.ts";
import { type Deed, perform } from "../database/perform.ts";
import { saleFacts } from "../database/sale-facts.ts";
import { ok, type Result } from "../rules/problem.ts";
import type { Stage } from "../rules/sale-stage.ts";
import { judgeMove } from "../rules/stage-move.ts";
import { changedMeanwhile, lockSale } from "./sale-lock.ts";

/** Moves a sale one stage on, or one back with a reason while nothing depends on it. */
export const moveSale = (
  deed: Deed,
  id: string,
  { to, reason, version }: MoveInput,
): Promise<Result<{ stage: Stage; version: number }>> =>
  perform(deed, "move-sale", { id, to, reason, version }, async (tx) => {
    // Receipts, entries and check-ins hold the sale while they write, so the counts stand still.
    const sale = await lockSale(tx, id);
    if (!sale.ok) return sale;
    if (sale.value.version !== version) return changedMeanwhile();
    const from = sale.value.stage;
    const judged = judgeMove({ from, to, reason }, await saleFacts(tx, id));
    if (!judged.ok) return judged;
    await tx.sale.update({ where: { id }, data: { stage: to, version: { increment: 1 } } });
    await tx.stageChange.create({
      data: { saleId: id, fromStage: from, toStage: to, reason, byId: deed.actor.id },
    });
    return ok({
      value: { stage: to, version: version + 1 },
      subjectId: id,
      detail: { from, to, ...(reason ? { reason } : {}) },
    });
  });
