import type { LabelStockInput } from "../contract/label-stock.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { changedMeanwhile } from "./sale-lock.ts";

type Kept = { id: string; version: number };

/** Adds a stock of the guild's own. Its figures have been checked by the printing room. */
export const addLabelStock = (deed: Deed, shape: LabelStockInput): Promise<Result<Kept>> =>
  perform(deed, "add-label-stock", shape, async (tx) => {
    const { name } = shape;
    const { id } = await tx.labelStock.create({ data: { name, shape, byId: deed.actor.id } });
    return ok({ value: { id, version: 1 }, subjectId: id, detail: { name } });
  });

/** Changes a stock; files that are made already stay as they are. */
export const editLabelStock = (
  deed: Deed,
  id: string,
  { version, ...shape }: LabelStockInput & { version: number },
): Promise<Result<Kept>> =>
  perform(deed, "edit-label-stock", { id, version, shape }, async (tx) => {
    if (!(await tx.labelStock.findFirst({ where: { id, retiredAt: null } }))) return noStock();
    const { name } = shape;
    const changed = await tx.labelStock.updateMany({
      where: { id, version, retiredAt: null },
      data: { name, shape, version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    return ok({ value: { id, version: version + 1 }, subjectId: id, detail: { name } });
  });

/** Takes a stock off the lists. */
export const retireLabelStock = (deed: Deed, id: string): Promise<Result<{ id: string }>> =>
  perform(deed, "retire-label-stock", { id }, async (tx) => {
    const retired = await tx.labelStock.updateMany({
      where: { id, retiredAt: null },
      data: { retiredAt: new Date() },
    });
    return retired.count === 0 ? noStock() : ok({ value: { id }, subjectId: id });
  });

const noStock = (): Result<never> =>
  refuse("not-found", "There is no such stock of the guild's own.");
