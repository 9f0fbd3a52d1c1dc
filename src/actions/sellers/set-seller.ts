import type { SellerInput } from "../../contract/seller.ts";
import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { changedMeanwhile } from "../sale-lock.ts";
import { saleForTerms } from "./seller-sale.ts";

/** Notes under which terms one member sells at a sale, and how the member wishes to be paid. */
export const setSeller = (
  deed: Deed,
  { saleId, memberId }: { saleId: string; memberId: string },
  input: SellerInput,
): Promise<Result<{ memberId: string; version: number }>> =>
  perform(deed, "set-seller", { saleId, memberId, input }, async (tx) => {
    const may = await saleForTerms(tx, saleId, input.classCode);
    if (!may.ok) return may;
    const member = await tx.member.findUnique({ where: { id: memberId } });
    if (!member) return refuse("not-found", "There is no such member.");
    const { version, ...terms } = input;
    if (!(await writeTerms(tx, { saleId, memberId }, terms, version))) return changedMeanwhile();
    return ok({
      value: { memberId, version: version + 1 },
      subjectId: memberId,
      detail: { member: member.number, ...terms },
    });
  });

/** Whether the version on the screen still was the newest; the first note has none before it. */
async function writeTerms(
  tx: Transaction,
  key: { saleId: string; memberId: string },
  terms: Omit<SellerInput, "version">,
  version: number,
): Promise<boolean> {
  if (version === 0) {
    const made = await tx.saleSeller.createMany({
      data: [{ ...key, ...terms }],
      skipDuplicates: true,
    });
    return made.count === 1;
  }
  const changed = await tx.saleSeller.updateMany({
    where: { ...key, version },
    data: { ...terms, version: { increment: 1 } },
  });
  return changed.count === 1;
}
