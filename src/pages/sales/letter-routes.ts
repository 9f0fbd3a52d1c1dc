import { returnLetter } from "../../actions/letters/return-letter.ts";
import { setReminders } from "../../actions/letters/set-reminders.ts";
import { letterReturnShape } from "../../contract/letters.ts";
import { findLetter } from "../../database/letters/sale-letters.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { readReminderDays } from "../../rules/letters/reminder-days.ts";
import { momentText } from "../../rules/moment.ts";
import type { Problem } from "../../rules/problem.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { kindWords, letterStateWords } from "../letters/words.ts";
import { readForm } from "../read-form.ts";
import { versionOf } from "../shifts/form.ts";
import { wantId } from "../want-id.ts";
import { lettersPage, letterWords, phonePage } from "./letters-page.ts";
import { guildOf, saleOf, type WithId } from "./sale-of.ts";

type WithLetter = { Params: { id: string; letterId: string } };

const chair = { config: { access: ["chair"] as const } };

/** The letters of a sale: when members are reminded, what went out, and whom to phone. */
export async function letterPages(app: App): Promise<void> {
  app.get<WithId>("/sales/:id/letters", chair, async (request, reply) =>
    reply.page("sales/letters", await lettersPage(request)),
  );

  app.post<WithId>("/sales/:id/letters/reminders", chair, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const fields = request.body as Fields;
    const read = readReminderDays(textOf(fields, "days"));
    const input = { saleId: sale.id, version: versionOf(fields) };
    const set = read.ok ? await setReminders(request.deed(), { ...input, days: read.value }) : read;
    if (!set.ok) {
      const page = await lettersPage(request, set.problem);
      return reply.page("sales/letters", page, set.problem.status);
    }
    const text = "The reminders are set.";
    return reply.seeOther(`/sales/${sale.id}/letters`, { kind: "good", text });
  });

  app.get<WithId>("/sales/:id/letters/phone", chair, async (request, reply) =>
    reply.page("sales/phone", await phonePage(request)),
  );

  app.get<WithLetter>("/sales/:id/letters/:letterId", chair, async (request, reply) =>
    letterPage(request, reply),
  );

  app.post<WithLetter>("/sales/:id/letters/:letterId/return", chair, async (request, reply) => {
    const { sale, letter } = await letterOf(request);
    const read = readForm(letterReturnShape, request.body);
    const given = { letterId: letter.id };
    const done = read.ok ? await returnLetter(request.deed(), { ...given, ...read.value }) : read;
    if (!done.ok) return letterPage(request, reply, done.problem);
    const text = "It is noted that the letter came back.";
    return reply.seeOther(`/sales/${sale.id}/letters`, { kind: "good", text });
  });
}

/** The letter an address names, of the sale that it names. */
async function letterOf(request: Request) {
  const { id, letterId } = request.params as WithLetter["Params"];
  const sale = await saleOf(request, id);
  const letter = await findLetter(request.server.parts.db, wantId(letterId, "this letter"));
  if (letter?.saleId !== sale.id) throw notFound("this letter");
  return { sale, letter };
}

async function letterPage(request: Request, reply: Reply, problem?: Problem) {
  const { sale, letter } = await letterOf(request);
  const guild = await guildOf(request);
  const data = {
    title: `${letter.memberNumber} ${letter.memberName}`,
    sale,
    letter,
    mayReturn: letter.state === "sent",
    facts: [
      { label: "Letter", value: kindWords[letter.kind].name },
      { label: "Written", value: momentText(letter.createdAt, guild.locale, guild.timeZone) },
      { label: "State", value: letterStateWords[letter.state].text },
      { label: "What happened", value: letterWords(letter, guild) },
    ],
    values: problem ? request.body : {},
    problem,
  };
  return reply.page("sales/letter", data, problem?.status ?? 200);
}
