import type { ReportThresholdChange } from "../contract/report-threshold.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result } from "../rules/problem.ts";
import { lockGuild } from "./guild-lock.ts";
import { changedMeanwhile } from "./sale-lock.ts";

/** Sets from what amount on the year's list flags a member, as the guild's accountant says. */
export const setReportThreshold = (
  deed: Deed,
  change: ReportThresholdChange,
): Promise<Result<{ version: number }>> =>
  perform(deed, "set-report-threshold", change, async (tx) => {
    const { amount, counts, from, version } = change;
    await lockGuild(tx);
    const guild = await tx.guild.findFirstOrThrow();
    if (guild.version !== version) return changedMeanwhile();
    await tx.guild.update({
      where: { id: 1 },
      data: {
        reportThreshold: amount === null ? null : BigInt(amount),
        reportCounts: counts,
        reportFrom: from,
        version: { increment: 1 },
      },
    });
    const value = { version: version + 1 };
    return ok({ value, subjectId: "guild", detail: { amount, counts, from } });
  });
