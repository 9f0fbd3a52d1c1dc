import { z } from "zod";
import { returnLetter } from "../actions/letters/return-letter.ts";
import { setReminders } from "../actions/letters/set-reminders.ts";
import {
  letterCountShown,
  letterReturnShape,
  letterShown,
  phoneShown,
  remindersShape,
} from "../contract/letters.ts";
import { countLetters, listLetters, listToPhone } from "../database/letters/sale-letters.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { letterKinds, letterStates } from "../rules/letters/kinds.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const config = { access: ["chair"] as const };
const tags = ["letters"];
const params = z.object({ id: z.uuid() });

/** The letters of a sale: what went out, whom none reaches, and when members are reminded. */
export async function saleLetterApi(app: App): Promise<void> {
  await app.register(reads);
  await app.register(writes);
}

async function reads(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const wantSale = async (id: string) => {
    const sale = await db.sale.findUnique({ where: { id } });
    if (!sale) throw notFound("this sale");
    return sale;
  };

  route.get("/sales/:id/letters", {
    config,
    schema: {
      tags,
      summary: "The letters of a sale, the newest first, with how many there are of each",
      params,
      querystring: pageQuery.extend({
        after: z.uuid().optional(),
        kind: z.enum(letterKinds).optional(),
        state: z.enum(letterStates).optional(),
      }),
      response: {
        200: pageOf(letterShown).extend({ counts: z.array(letterCountShown) }),
        ...refusals,
      },
    },
    handler: async ({ params: { id }, query }) => {
      await wantSale(id);
      const { items, next } = await listLetters(db, id, query);
      const shown = items.map((letter) => ({
        ...letter,
        createdAt: letter.createdAt.toISOString(),
        nextAt: letter.nextAt.toISOString(),
        endedAt: letter.endedAt?.toISOString() ?? null,
      }));
      return { items: shown, next, counts: await countLetters(db, id) };
    },
  });

  route.get("/sales/:id/letters/phone", {
    config,
    schema: {
      tags,
      summary: "Members whom no letter of a sale reaches; `after` is the last number seen",
      params,
      querystring: pageQuery.extend({
        after: z.coerce.number().int().min(0).max(1_000_000).default(0),
      }),
      response: { 200: pageOf(phoneShown), ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      await wantSale(id);
      const { items, next } = await listToPhone(db, id, query);
      return { items, next: next === null ? null : String(next) };
    },
  });

  route.get("/sales/:id/reminders", {
    config,
    schema: {
      tags,
      summary: "How many days before entries end members are reminded",
      params,
      response: { 200: remindersShape, ...refusals },
    },
    handler: async ({ params: { id } }) => {
      const { reminderDays, version } = await wantSale(id);
      return { days: reminderDays, version };
    },
  });
}

async function writes(app: App): Promise<void> {
  const route = typed(app);

  route.put("/sales/:id/reminders", {
    config,
    schema: {
      tags,
      summary: "Set the reminders of a sale, from the version of the sale that was read",
      params,
      body: remindersShape,
      response: { 200: remindersShape, ...refusals },
    },
    handler: async (request) => {
      const input = { saleId: request.params.id, ...request.body };
      return orRefuse(await setReminders(request.deed(), input));
    },
  });

  route.post("/letters/:id/return", {
    config,
    schema: {
      tags,
      summary: "Note that a sent letter came back later",
      params,
      body: letterReturnShape,
      response: { 201: z.object({ letterId: z.uuid() }), ...refusals },
    },
    handler: async (request, reply) => {
      const input = { letterId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await returnLetter(request.deed(), input)));
    },
  });
}
