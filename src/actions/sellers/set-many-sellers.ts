import type { ManySellersInput } from "../../contract/seller.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { saleForTerms } from "./seller-sale.ts";

/**
 * Makes one change for several members. Only the thing that is named is written, so nobody else's
 * change of other terms is lost.
 */
export const setManySellers = (
  deed: Deed,
  saleId: string,
  input: ManySellersInput,
): Promise<Result<{ members: number }>> =>
  perform(deed, "set-sellers", { saleId, input }, async (tx) => {
    const may = await saleForTerms(tx, saleId, input.classCode);
    if (!may.ok) return may;
    const memberIds = [...new Set(input.memberIds)].sort();
    const members = await tx.member.findMany({
      where: { id: { in: memberIds } },
      select: { number: true },
      orderBy: { number: "asc" },
    });
    if (members.length < memberIds.length)
      return refuseField("memberIds", "One of these members is not there. Load the page again.");
    await tx.saleSeller.createMany({
      data: memberIds.map((memberId) => ({ saleId, memberId })),
      skipDuplicates: true,
    });
    // In the order of the ids: two people who tick the same members wait for one another.
    await tx.$queryRaw`
      SELECT 1 FROM sale_seller WHERE sale_id = ${saleId}::uuid AND member_id = ANY(${memberIds}::uuid[])
      ORDER BY member_id FOR UPDATE`;
    await tx.saleSeller.updateMany({
      where: { saleId, memberId: { in: memberIds } },
      data: { ...changeOf(input), version: { increment: 1 } },
    });
    const { change, on, classCode } = input;
    const numbers = members.map(({ number }) => number);
    return ok({
      value: { members: numbers.length },
      subjectId: saleId,
      detail: { members: numbers, change, ...(change === "class" ? { classCode } : { on }) },
    });
  });

function changeOf({ change, on, classCode }: ManySellersInput) {
  switch (change) {
    case "committee":
      return { committee: on };
    case "visitor":
      return { visitor: on };
    case "pay-all":
      return { payAll: on };
    case "class":
      return { classCode };
  }
}
