import type { ReportingThreshold } from "../../rules/year-end.ts";
import type { GuildWords } from "../books/scene.ts";

/** What the flags on the year's list go by. */
export function thresholdWords(threshold: ReportingThreshold | null, guild: GuildWords): string {
  if (!threshold) return "No reporting threshold is set, so nobody is flagged.";
  const amount = guild.money(threshold.amount);
  const reached = threshold.from === "at" ? `${amount} or more` : `more than ${amount}`;
  return threshold.counts === "sold"
    ? `Flagged is every member whose pieces sold for ${reached} in the year.`
    : `Flagged is every member who was paid ${reached} in the year.`;
}
