import { type Deed, perform } from "../database/perform.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";

export interface LookedInto {
  sessionId: string;
}

/**
 * Notes what came of looking into a drawer that did not come out even, so that it stands in no
 * settlement's way any more. The cash-up and its entry in the books stay as they are.
 */
export const lookIntoDrawer = (
  deed: Deed,
  input: { saleId: string; sessionId: string; reason: string },
): Promise<Result<LookedInto>> =>
  perform(
    deed,
    "look-into-drawer",
    input,
    async (tx) => {
      const { saleId, sessionId, reason } = input;
      const counted = await tx.cashUp.findFirst({
        where: { tillSessionId: sessionId, tillSession: { till: { saleId } } },
        include: { tillSession: { include: { till: true } } },
      });
      if (!counted) return refuse("not-found", "There is no such cash-up.");
      if (counted.difference === 0n)
        return refuse("already-done", "This drawer came out even. There is nothing to look into.");
      await tx.lookedInto.create({
        data: { tillSessionId: sessionId, reason, byId: deed.actor.id },
      });
      const { number: till } = counted.tillSession.till;
      const detail = { saleId, till, difference: Number(counted.difference), reason };
      return ok({ value: { sessionId }, subjectId: sessionId, detail });
    },
    { looked_into_pkey: lookedIntoAlready },
  );

const lookedIntoAlready = () =>
  problem("already-done", "Somebody has noted already what came of it. The first note was kept.");
