import type { ReportingThreshold } from "../rules/year-end.ts";
import type { Transaction } from "./client.ts";

/** From what amount on a member's year is to be reported; null until the guild has said so. */
export async function reportThresholdOf(db: Transaction): Promise<ReportingThreshold | null> {
  const { reportThreshold, reportCounts, reportFrom } = await db.guild.findFirstOrThrow();
  if (reportThreshold === null) return null;
  return {
    amount: Number(reportThreshold),
    counts: reportCounts as ReportingThreshold["counts"],
    from: reportFrom as ReportingThreshold["from"],
  };
}
