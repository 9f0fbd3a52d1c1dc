import { v7 } from "uuid";
import type { OpenLine } from "../../database/open-lines.ts";
import type { UnsoldItem } from "../../database/unsold-items.ts";
import type { MemberSettlement, SettledLine } from "../../rules/settlement.ts";
import { type StatementHeading, statementNotes } from "../../rules/statement.ts";

/** A statement before it gets its number. */
export interface StatementDraft {
  id: string;
  memberId: string;
  gross: number;
  guildShare: number;
  net: number;
  heading: StatementHeading;
  lines: SettledLine<OpenLine>[];
  unsold: UnsoldItem[];
}

interface Given {
  /** Days as "2026-11-27". */
  sale: { name: string; firstDay: string; lastDay: string; guildRate: number };
  guild: {
    name: string;
    address: string;
    currency: string;
    locale: string;
    timeZone: string;
    paper: string;
  };
  members: readonly (MemberSettlement<OpenLine> & { memberName: string })[];
  unsold: readonly UnsoldItem[];
}

type Person = Pick<UnsoldItem, "memberId" | "memberNumber" | "memberName">;

/** One statement for everybody with a sold or an unsold piece, by member number. */
export function draftStatements(given: Given): StatementDraft[] {
  const settled = new Map(given.members.map((one) => [one.memberId, one]));
  const unsold = new Map<string, UnsoldItem[]>();
  for (const item of given.unsold)
    unsold.set(item.memberId, [...(unsold.get(item.memberId) ?? []), item]);
  const people = new Map<string, Person>();
  for (const { memberId, memberNumber, memberName } of [...given.members, ...given.unsold])
    people.set(memberId, { memberId, memberNumber, memberName });
  return [...people.values()]
    .sort((one, other) => one.memberNumber - other.memberNumber)
    .map((person) =>
      draft(given, person, settled.get(person.memberId), unsold.get(person.memberId) ?? []),
    );
}

function draft(
  given: Given,
  person: Person,
  settled: MemberSettlement<OpenLine> | undefined,
  unsold: UnsoldItem[],
): StatementDraft {
  const { gross = 0, guildShare = 0, net = 0, donated = 0, lines = [] } = settled ?? {};
  const { currency, locale } = given.guild;
  const hasReturns = lines.some(({ quantity }) => quantity < 0);
  const rate = given.sale.guildRate;
  const notes = statementNotes({ rate, net, donated, hasReturns, currency, locale });
  const heading = { ...headingOf(given, person), notes };
  return { id: v7(), memberId: person.memberId, gross, guildShare, net, heading, lines, unsold };
}

function headingOf({ sale, guild }: Given, person: Person): Omit<StatementHeading, "notes"> {
  const { memberNumber, memberName } = person;
  const { currency, locale, timeZone } = guild;
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
  };
}
