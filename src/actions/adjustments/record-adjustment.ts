import type { AdjustmentInput } from "../../contract/adjustment.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { type Adjusted, saleToAdjust, writeAdjustment } from "./write-adjustment.ts";

/**
 * Records money for a member, or from a member, by somebody's decision. It stands in the books at
 * once and on the member's next statement.
 */
export const recordAdjustment = (
  deed: Deed,
  saleId: string,
  input: AdjustmentInput,
): Promise<Result<Adjusted>> =>
  perform(deed, "record-adjustment", { saleId, input }, async (tx) => {
    const may = await saleToAdjust(tx, saleId);
    if (!may.ok) return may;
    const member = await tx.member.findUnique({ where: { number: input.member } });
    if (!member) return refuseField("member", "Nobody in the guild has this number.");
    const { amount, reason } = input;
    const row = { saleId, member, amount, reason, byId: deed.actor.id };
    const value = await writeAdjustment(tx, row);
    return ok({ value, subjectId: value.id, detail: { member: member.number, amount, reason } });
  });
