import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { changedMeanwhile, lockSale } from "./sale-lock.ts";

/** Gives the agreement of a sale a new wording: a new version, beside the ones accepted before. */
export const writeAgreement = (
  deed: Deed,
  saleId: string,
  given: { text: string; replaces: number },
): Promise<Result<{ version: number }>> =>
  perform(deed, "write-agreement", { saleId, ...given }, async (tx) => {
    const sale = await lockSale(tx, saleId);
    if (!sale.ok) return sale;
    if (!allows(sale.value.stage, "edit-sale"))
      return refuse("stage-closed", "This sale is closed, and so is what was agreed for it.");
    if (sale.value.agreementVersion !== given.replaces) return changedMeanwhile();
    const standing = await tx.agreement.findUniqueOrThrow({
      where: { saleId_version: { saleId, version: given.replaces } },
    });
    if (standing.text === given.text)
      return refuseField("text", "This is the wording that stands already.");
    const version = given.replaces + 1;
    await tx.agreement.create({ data: { saleId, version, text: given.text } });
    await tx.sale.update({ where: { id: saleId }, data: { agreementVersion: version } });
    return ok({ value: { version }, subjectId: saleId, detail: { version } });
  });
