import { v7 } from "uuid";
import type { PreviewMember } from "../../database/settlement-preview.ts";
import type { Policy } from "../../rules/policy/policy.ts";
import { type StatementHeading, statementNotes } from "../../rules/statement.ts";

/** A statement before it gets its number. */
export interface StatementDraft extends PreviewMember {
  id: string;
  heading: StatementHeading;
}

export interface DraftScene {
  /** Days as "2026-11-27". */
  sale: { name: string; firstDay: string; lastDay: string };
  guild: {
    name: string;
    address: string;
    currency: string;
    locale: string;
    timeZone: string;
    paper: string;
  };
  policy: Policy;
  year: number;
  /** What earlier statements of the year came to, by member. */
  yearSoFar: ReadonlyMap<string, { gross: number; net: number }>;
}

/** One statement for everybody whom the settlement has something to say to. */
export const draftStatements = (
  scene: DraftScene,
  members: readonly PreviewMember[],
): StatementDraft[] =>
  members.map((member) => ({
    ...member,
    id: v7(),
    heading: { ...headingOf(scene, member), notes: notesOf(scene, member) },
  }));

function notesOf({ policy, guild }: DraftScene, member: PreviewMember): string[] {
  const { gross, net, carried, due, donated, lines, payout, cardFee } = member;
  return statementNotes({
    ...{ policy, gross, net, carried, due, donated },
    ...{ payWhy: payout.why, payMethod: payout.method },
    hasReturns: lines.some(({ quantity }) => quantity < 0),
    hasCardFee: cardFee !== 0,
    ...{ currency: guild.currency, locale: guild.locale },
  });
}

function headingOf(scene: DraftScene, member: PreviewMember): Omit<StatementHeading, "notes"> {
  const { sale, guild, year } = scene;
  const { memberId, memberNumber, memberName, gross, net } = member;
  const { currency, locale, timeZone } = guild;
  const before = scene.yearSoFar.get(memberId) ?? { gross: 0, net: 0 };
  return {
    guildName: guild.name,
    guildLines: guild.address.split(/\r?\n/).filter((line) => line.trim() !== ""),
    saleName: sale.name,
    firstDay: sale.firstDay,
    lastDay: sale.lastDay,
    memberNumber,
    memberName,
    currency,
    locale,
    timeZone,
    paper: guild.paper === "a4" ? "a4" : "letter",
    yearToDate: { year, gross: before.gross + gross, net: before.net + net },
  };
}
