import { z } from "zod";
import { remindMember } from "../actions/remind-member.ts";
import { remindedShape, unclaimedShape } from "../contract/paying.ts";
import { ageUnclaimed, letterFacts } from "../database/unclaimed.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { printLetter } from "../printing/letter-words.ts";
import { pageOf, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });

/** Money that waits for its members, and reminding them of it. */
export async function unclaimedApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/unclaimed", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "Money that is due and not recorded as paid, the oldest first",
      description: "It stays the members'. `after` is the last statement number seen.",
      querystring: z.object({
        after: z.coerce.number().int().min(1).max(2_000_000_000).optional(),
        limit: z.coerce.number().int().min(1).max(200).default(50),
        q: z.string().trim().max(100).optional(),
      }),
      response: { 200: pageOf(unclaimedShape), ...refusals },
    },
    handler: async ({ query }) => {
      const { items, next } = await ageUnclaimed(db, query, app.now());
      const shown = items.map((one) => ({
        ...one,
        owedSince: one.owedSince.toISOString(),
        reminded: one.reminded.map((at) => at.toISOString()),
      }));
      return { items: shown, next: next === null ? null : String(next) };
    },
  });

  route.post("/statements/:id/reminders", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "Record that a member was reminded; `number` is the reminder's number",
      params,
      body: z.strictObject({ number: z.int().min(1).max(100_000) }),
      response: { 201: remindedShape, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { statementId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await remindMember(request.deed(), input)));
    },
  });

  app.get<{ Params: { id: string } }>("/statements/:id/letter.pdf", {
    config: books,
    schema: { tags: ["paying"], summary: "A letter that reminds the member, as PDF", params },
    handler: async ({ params: { id } }, reply) => {
      const facts = await letterFacts(db, id, app.now());
      if (!facts) throw notFound("money that waits for this statement");
      const bytes = await printLetter(facts.waiting, facts.guild);
      return reply.type("application/pdf").send(Buffer.from(bytes));
    },
  });
}
