import { type ReportingThreshold, yearTotals } from "../../rules/year-end.ts";
import type { MemberYear } from "./year-totals.ts";

export interface MemberYearShown extends MemberYear {
  toReport: boolean;
}

/** The members of a year with the flag of those who reach the guild's threshold. */
export function flagged(
  rows: readonly MemberYear[],
  year: number,
  zone: string,
  threshold: ReportingThreshold | null,
): MemberYearShown[] {
  // The middle of the year, which is inside it in every zone.
  const at = `${year}-07-01T00:00:00.000Z`;
  const facts = rows.map(({ memberId, sold, guildShare, fees, paid }) => ({
    ...{ memberId, at, sold, kept: guildShare + fees, paid },
  }));
  const flags = new Map(
    yearTotals(facts, year, zone, threshold).map(({ memberId, toReport }) => [memberId, toReport]),
  );
  return rows.map((row) => ({ ...row, toReport: flags.get(row.memberId) ?? false }));
}
