import { z } from "zod";
import { remindMember } from "../../actions/remind-member.ts";
import { ageUnclaimed, letterFacts, sumOfUnclaimed } from "../../database/unclaimed.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { printLetter } from "../../printing/letter-words.ts";
import { dayIn, dayText } from "../../rules/day.ts";
import type { Problem } from "../../rules/problem.ts";
import { books, type GuildWords, guildWords, numberAfter, type WithId } from "../books/scene.ts";
import { readForm } from "../read-form.ts";
import { nextHref, searchOf, wantId } from "../want-id.ts";
import { payingPlaces, paymentsText, sendPdf } from "./scene.ts";

const form = z.object({ number: z.coerce.number().pipe(z.int().min(1).max(100_000)) });

/** Money that waits for its members: how long, and when they were reminded. */
export async function unclaimedPages(app: App): Promise<void> {
  app.get("/books/unclaimed", books, async (request, reply) =>
    reply.page("paying/unclaimed", await page(request)),
  );

  app.post<WithId>("/books/statements/:id/reminders", books, async (request, reply) => {
    const statementId = wantId(request.params.id, "this statement");
    const read = readForm(form, request.body);
    const done = read.ok
      ? await remindMember(request.deed(), { statementId, ...read.value })
      : read;
    if (!done.ok)
      return reply.page("paying/unclaimed", await page(request, done.problem), done.problem.status);
    const text = "The reminder is recorded. The money stays the member's.";
    return reply.seeOther("/books/unclaimed", { kind: "good", text });
  });

  app.get<WithId>("/books/statements/:id/letter.pdf", books, async (request, reply) => {
    const id = wantId(request.params.id, "this statement");
    const facts = await letterFacts(app.parts.db, id, app.now());
    if (!facts) throw notFound("money that waits for this statement");
    const name = `reminder-statement-${facts.waiting.statementNumber}.pdf`;
    return sendPdf(reply, name, await printLetter(facts.waiting, facts.guild));
  });
}

async function page(request: Request, problem?: Problem) {
  const { db } = request.server.parts;
  const query = request.query as { q?: string; after?: string };
  const q = searchOf(query.q);
  const search = { q, after: numberAfter(query.after), limit: 50 };
  const { items, next, plan } = await ageUnclaimed(db, search, request.server.now());
  const guild = await guildWords(request);
  const sum = await sumOfUnclaimed(db);
  return {
    title: "What waits",
    places: payingPlaces("/books/unclaimed"),
    problem,
    q,
    sum: `${paymentsText(sum.count)}, ${guild.money(sum.amount)}`,
    plan,
    next: nextHref("/books/unclaimed", next === null ? null : String(next), { q }),
    rows: items.map((one) => rowOf(one, guild)),
  };
}

type Aged = Awaited<ReturnType<typeof ageUnclaimed>>["items"][number];

function rowOf(one: Aged, { money, locale, timeZone }: GuildWords) {
  const dayOf = (at: Date) => dayText(dayIn(at, timeZone), locale);
  return {
    ...one,
    who: `${one.memberNumber} ${one.memberName}`,
    href: `/books/statements/${one.statementId}`,
    runHref: one.runId && `/books/runs/${one.runId}`,
    amount: money(one.amount),
    since: dayOf(one.owedSince),
    days: one.days === 1 ? "1 day" : `${one.days} days`,
    due: one.reminderDue !== null,
    reminded: one.reminded.map(dayOf),
    nextReminder: one.reminded.length + 1,
  };
}
