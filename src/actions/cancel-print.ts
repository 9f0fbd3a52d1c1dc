import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { helpsOthers } from "./entry-rules.ts";

/** Stops a print that waits or runs. Its tags count as not printed again. */
export const cancelPrint = (deed: Deed, { id }: { id: string }): Promise<Result<{ id: string }>> =>
  perform(deed, "cancel-print", { id }, async (tx) => {
    const own = helpsOthers(deed.actor) ? {} : { byId: deed.actor.id };
    const job = await tx.printJob.findFirst({ where: { id, ...own } });
    if (!job) return refuse("not-found", "There is no such print among yours.");
    const cancelled = await tx.printJob.updateMany({
      where: { id, state: { in: ["waiting", "running"] } },
      data: { state: "cancelled", endedAt: new Date() },
    });
    if (cancelled.count === 0)
      return refuse("already-done", "This print had ended already. Nothing was changed.");
    return ok({ value: { id }, subjectId: id, detail: { labels: job.total } });
  });
