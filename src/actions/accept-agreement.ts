import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";

/** A member accepts the wording that stands; accepting it again changes nothing. */
export const acceptAgreement = (
  deed: Deed,
  saleId: string,
  version: number,
): Promise<Result<{ version: number; acceptedAt: string }>> =>
  perform(deed, "accept-agreement", { saleId, version }, async (tx) => {
    const rows = await tx.$queryRaw<{ agreementVersion: number; stage: string }[]>`
      SELECT agreement_version AS "agreementVersion", stage FROM sale WHERE id = ${saleId}::uuid FOR SHARE`;
    const sale = rows[0];
    if (!sale) return refuse("not-found", "There is no such sale.");
    if (sale.stage === "closed")
      return refuse("stage-closed", "This sale is closed; there is nothing left to agree to.");
    if (sale.agreementVersion !== version)
      return refuse(
        "changed-meanwhile",
        "The wording has changed. Nothing was accepted; please read the new one.",
      );
    const memberId = deed.actor.id;
    await tx.acceptance.createMany({ data: [{ saleId, version, memberId }], skipDuplicates: true });
    const { at } = await tx.acceptance.findUniqueOrThrow({
      where: { saleId_version_memberId: { saleId, version, memberId } },
    });
    const value = { version, acceptedAt: at.toISOString() };
    return ok({ value, subjectId: saleId, detail: { version } });
  });
