import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result } from "../rules/problem.ts";

/**
 * Keeps what the member would like an hour to bring, or forgets it. There is no version: it is one
 * person's own figure, and the last word holds. The audit row says that it changed, not to what.
 */
export const keepWage = (deed: Deed, wage: number | null): Promise<Result<{ kept: boolean }>> =>
  perform(deed, "keep-wage", { wage }, async (tx) => {
    const memberId = deed.actor.id;
    if (wage === null) await tx.memberWage.deleteMany({ where: { memberId } });
    else {
      const data = { wage: BigInt(wage) };
      await tx.memberWage.upsert({
        where: { memberId },
        create: { memberId, ...data },
        update: data,
      });
    }
    return ok({ value: { kept: wage !== null }, subjectId: memberId });
  });
