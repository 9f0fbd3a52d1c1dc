import { type LetterKind, wantedAtFirst } from "../../rules/letters/kinds.ts";
import { byDay, dueReminder, isEve, nextMorning } from "../../rules/letters/when.ts";
import type { Database, Transaction } from "../client.ts";

/**
 * Writes down every letter that has become due and is not written yet. However often and in however
 * many servers it runs, the unique key of a letter lets each be written once. Whoever does not want
 * a kind, or has no address, gets no row; both are asked again at sending.
 */
export async function writeDueLetters(db: Database, now: Date): Promise<void> {
  const guild = await db.guild.findFirst();
  if (!guild) return;
  await writeReminders(db, now, guild.timeZone);
  await writeCheckInLetters(db, now, guild.timeZone);
  await writeFirstSold(db, now);
}

async function writeReminders(db: Database, now: Date, timeZone: string): Promise<void> {
  const sales = await db.sale.findMany({
    where: { stage: "entries-open", entryDeadline: { gt: now } },
    select: { id: true, entryDeadline: true, reminderDays: true },
  });
  for (const sale of sales) {
    const due = dueReminder(sale, now, timeZone);
    if (!due) continue;
    // The deadline's day belongs to it: a deadline that is moved is worth another letter.
    const occasion = `${due.day} ${due.daysBefore}`;
    await db.$executeRaw`
      INSERT INTO member_mail (id, member_id, kind, subject_id, occasion, sale_id, next_at)
      SELECT gen_random_uuid(), m.id, 'entry-deadline', ${sale.id}::uuid, ${occasion}, ${sale.id}::uuid,
        ${byDay(now, timeZone)}
      FROM member m LEFT JOIN letter_choice c ON c.member_id = m.id AND c.kind = 'entry-deadline'
      WHERE m.status = 'active' AND m.email IS NOT NULL AND coalesce(c.wanted, ${wantedAtFirst["entry-deadline"]})
        AND NOT EXISTS (SELECT 1 FROM member_mail o WHERE o.member_id = m.id AND o.kind = 'entry-deadline'
          AND o.subject_id = ${sale.id}::uuid AND o.occasion = ${occasion})
      ON CONFLICT DO NOTHING`;
  }
}

const twoDays = 2 * 86_400_000;

async function writeCheckInLetters(db: Database, now: Date, timeZone: string): Promise<void> {
  const chosen = await db.checkInChoice.findMany({
    where: {
      time: { withdrawnAt: null, startsAt: { gt: now, lt: new Date(now.getTime() + twoDays) } },
      member: { ...mayGet("check-in-time"), status: "active", email: { not: null } },
    },
    include: { time: { select: { startsAt: true } } },
  });
  const due = chosen.filter(({ time }) => isEve(time.startsAt, now, timeZone));
  if (due.length === 0) return;
  await db.memberMail.createMany({
    data: due.map(({ memberId, timeId, saleId, time }) => ({
      ...{ memberId, kind: "check-in-time", subjectId: timeId, saleId },
      // A time that the chair moves is worth another letter.
      occasion: time.startsAt.toISOString(),
      nextAt: byDay(now, timeZone),
    })),
    skipDuplicates: true,
  });
}

/** Members who want a kind of letter, by the choices they made or by its default. */
function mayGet(kind: LetterKind) {
  const said = (wanted: boolean) => ({ some: { kind, wanted } });
  return wantedAtFirst[kind]
    ? { letterChoices: { none: { kind, wanted: false } } }
    : { letterChoices: said(true) };
}

/**
 * Looks only at members who asked for it and have not been told, so the till never waits for it.
 * What is nobody's yet or was taken back does not count.
 */
async function writeFirstSold(db: Database, now: Date): Promise<void> {
  await db.$executeRaw`
    INSERT INTO member_mail (id, member_id, kind, subject_id, sale_id, next_at)
    SELECT gen_random_uuid(), m.id, 'first-sold', s.id, s.id, ${now}
    FROM sale s CROSS JOIN member m
    JOIN letter_choice c ON c.member_id = m.id AND c.kind = 'first-sold' AND c.wanted
    WHERE s.stage = 'selling' AND m.status = 'active' AND m.email IS NOT NULL
      AND NOT EXISTS (SELECT 1 FROM member_mail o WHERE o.member_id = m.id AND o.kind = 'first-sold' AND o.subject_id = s.id)
      AND EXISTS (SELECT 1 FROM credited_line l JOIN receipt r ON r.id = l.receipt_id
        WHERE l.member_id = m.id AND r.sale_id = s.id AND l.quantity > 0 AND l.item_id IS NOT NULL
          AND l.quantity + coalesce((SELECT sum(b.quantity) FROM receipt_line b
          WHERE b.reverses_line_id = l.id OR b.awaits_line_id = l.id), 0) > 0)
    ON CONFLICT DO NOTHING`;
}

/**
 * One letter for each statement of a settlement, in the transaction that finalises it. It waits for
 * the next morning: until then the treasurer may mail the statements themselves.
 */
export async function writeStatementLetters(
  tx: Transaction,
  {
    settlementId,
    saleId,
    now,
    timeZone,
  }: {
    settlementId: string;
    saleId: string;
    now: Date;
    timeZone: string;
  },
): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO member_mail (id, member_id, kind, subject_id, sale_id, next_at)
    SELECT gen_random_uuid(), s.member_id, 'statement-ready', s.settlement_id, ${saleId}::uuid, ${nextMorning(now, timeZone)}
    FROM statement s JOIN member m ON m.id = s.member_id
    LEFT JOIN letter_choice c ON c.member_id = m.id AND c.kind = 'statement-ready'
    WHERE s.settlement_id = ${settlementId}::uuid AND m.email IS NOT NULL
      AND coalesce(c.wanted, ${wantedAtFirst["statement-ready"]})
    ON CONFLICT DO NOTHING`;
}
