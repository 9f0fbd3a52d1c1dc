import { type Deed, perform } from "../database/perform.ts";
import { listUnclaimed } from "../database/unclaimed.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";

export interface Reminded {
  statementId: string;
  number: number;
}

/**
 * Records that a member was reminded of money that waits. `number` is the reminder that the page
 * spoke of, so that two people who press at once record one. The money stays the member's.
 */
export const remindMember = (deed: Deed, input: Reminded): Promise<Result<Reminded>> =>
  perform(
    deed,
    "remind-member",
    input,
    async (tx) => {
      const { statementId, number } = input;
      const [waits] = (await listUnclaimed(tx, { id: statementId, limit: 1 })).items;
      if (!waits) return refuse("not-found", "Nothing waits for this statement any more.");
      if (number <= waits.reminded.length) return { ok: false, problem: reminded() };
      if (number > waits.reminded.length + 1)
        return refuse("invalid-input", `The next reminder is number ${waits.reminded.length + 1}.`);
      await tx.reminder.create({ data: { statementId, number, byId: deed.actor.id } });
      const value = { statementId, number };
      return ok({
        value,
        subjectId: statementId,
        detail: { statement: waits.statementNumber, number },
      });
    },
    { reminder_pkey: reminded },
  );

const reminded = () =>
  problem("already-done", "This reminder was recorded already. Nothing was recorded twice.");
