import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { lockSale } from "./sale-lock.ts";

/** Adds a till to a sale under the next number: 1, 2, 3 … */
export const addTill = (
  deed: Deed,
  saleId: string,
  { name }: { name: string },
): Promise<Result<{ id: string; number: number }>> =>
  perform(deed, "add-till", { saleId, name }, async (tx) => {
    const sale = await lockSale(tx, saleId);
    if (!sale.ok) return sale;
    if (sale.value.stage === "settling" || !allows(sale.value.stage, "edit-sale"))
      return refuse("stage-closed", "Selling is over, so this sale needs no further till.");
    const last = await tx.till.aggregate({ where: { saleId }, _max: { number: true } });
    const number = (last._max.number ?? 0) + 1;
    const { id } = await tx.till.create({ data: { saleId, number, name } });
    return ok({ value: { id, number }, subjectId: id, detail: { number, name } });
  });

/** Gives a till of the sale another name; its number and receipts stay. */
export const renameTill = (
  deed: Deed,
  given: { saleId: string; tillId: string; name: string },
): Promise<Result<{ id: string }>> =>
  perform(deed, "rename-till", given, async (tx) => {
    const { saleId, tillId: id, name } = given;
    const renamed = await tx.till.updateMany({ where: { id, saleId }, data: { name } });
    if (renamed.count === 0) return refuse("not-found", "This sale has no such till.");
    return ok({ value: { id }, subjectId: id, detail: { name } });
  });
