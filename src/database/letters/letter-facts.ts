import { choicesFrom } from "../../rules/letters/kinds.ts";
import { letterLanguage } from "../../rules/letters/language.ts";
import type { LetterFacts } from "../../rules/letters/letter-text.ts";
import { showTag } from "../../rules/tag-number.ts";
import { localDayOf } from "../../rules/zoned-time.ts";
import type { Database } from "../client.ts";
import type { WaitingLetter } from "./queue.ts";

/** Whom a letter goes to, as things stand at the moment of sending. */
export async function readerOf(db: Database, { memberId, kind, saleId }: WaitingLetter) {
  const member = await db.member.findUniqueOrThrow({
    where: { id: memberId },
    include: { letterChoices: true },
  });
  const guild = await db.guild.findFirstOrThrow();
  const sale = await db.sale.findUniqueOrThrow({ where: { id: saleId } });
  return {
    wanted: choicesFrom(member.letterChoices)[kind],
    address: member.email,
    // Whoever left is paid all the same, and told so.
    resting: member.status !== "active" && kind !== "statement-ready",
    setting: {
      language: letterLanguage(member.language, guild.locale),
      guild: { name: guild.name, locale: guild.locale, timeZone: guild.timeZone },
      memberName: member.name,
      saleName: sale.name,
    },
    sale,
  };
}

/** What there is to tell and where it stands on the site. */
export interface Told {
  facts: LetterFacts;
  path: string;
}

/** "forget" is for what may come true later, "past" for what is true no more. */
export type Telling = Told | "forget" | "past" | "statement-mailed";

export async function whatToTell(
  db: Database,
  letter: WaitingLetter,
  { sale, setting }: Awaited<ReturnType<typeof readerOf>>,
  now: Date,
): Promise<Telling> {
  switch (letter.kind) {
    case "entry-deadline":
      return deadlineNews(db, letter, sale, { now, timeZone: setting.guild.timeZone });
    case "check-in-time":
      return checkInNews(db, letter, sale.place, now);
    case "first-sold":
      return firstSoldNews(db, letter);
    case "statement-ready":
      return statementNews(db, letter);
  }
}

async function deadlineNews(
  db: Database,
  { memberId, saleId, occasion }: WaitingLetter,
  { stage, entryDeadline }: { stage: string; entryDeadline: Date },
  { now, timeZone }: { now: Date; timeZone: string },
): Promise<Telling> {
  const day = localDayOf(entryDeadline.toISOString(), timeZone);
  // A deadline that was moved meanwhile has a letter of its own when its time comes.
  if (stage !== "entries-open" || entryDeadline <= now || !occasion.startsWith(`${day} `))
    return "past";
  const entered = await db.item.aggregate({
    where: { memberId, saleId, withdrawnAt: null },
    _sum: { quantity: true },
  });
  const pieces = entered._sum.quantity ?? 0;
  const facts = { kind: "entry-deadline" as const, deadline: entryDeadline, pieces };
  return { facts, path: `/items?sale=${saleId}` };
}

async function checkInNews(
  db: Database,
  { memberId, saleId, subjectId, occasion }: WaitingLetter,
  place: string,
  now: Date,
): Promise<Telling> {
  const chosen = await db.checkInChoice.findFirst({
    where: { memberId, saleId, timeId: subjectId, time: { withdrawnAt: null } },
    include: { time: true },
  });
  if (!chosen) return "past";
  const { startsAt, minutes } = chosen.time;
  if (startsAt <= now || startsAt.toISOString() !== occasion) return "past";
  const endsAt = new Date(startsAt.getTime() + minutes * 60_000);
  const facts = { kind: "check-in-time" as const, startsAt, endsAt, place };
  return { facts, path: `/items/check-in?sale=${saleId}` };
}

async function firstSoldNews(db: Database, { memberId, saleId }: WaitingLetter): Promise<Telling> {
  const [line] = await db.$queryRaw<{ tag: string; description: string }[]>`
    SELECT l.tag, l.description FROM credited_line l JOIN receipt r ON r.id = l.receipt_id
    WHERE l.member_id = ${memberId}::uuid AND r.sale_id = ${saleId}::uuid AND l.quantity > 0 AND l.item_id IS NOT NULL
      AND l.quantity + coalesce((SELECT sum(b.quantity) FROM receipt_line b
          WHERE b.reverses_line_id = l.id OR b.awaits_line_id = l.id), 0) > 0
    ORDER BY r.at, l.position LIMIT 1`;
  if (!line) return "forget";
  const facts = { kind: "first-sold" as const, piece: line.description, tag: showTag(line.tag) };
  return { facts, path: `/results/${saleId}` };
}

async function statementNews(
  db: Database,
  { memberId, subjectId }: WaitingLetter,
): Promise<Telling> {
  const statement = await db.statement.findFirst({
    where: { settlementId: subjectId, memberId },
    include: { mails: { take: 1 } },
  });
  if (!statement) return "past";
  if (statement.mails.length > 0) return "statement-mailed";
  const { number, id } = statement;
  const facts = { kind: "statement-ready" as const, number };
  return { facts, path: `/results/statements/${id}/pdf` };
}
