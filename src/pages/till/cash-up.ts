import { z } from "zod";
import { closeAsCounted, countDrawer } from "../../actions/cash-up.ts";
import { type CashUpInput, cashUpShape } from "../../contract/till.ts";
import { standingCountOf } from "../../database/drawer-counts.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { formatMoney } from "../../rules/currency.ts";
import { ok, type Problem, type Result } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { countFields, readCash, withoutCount } from "./count-fields.ts";
import { differenceWords } from "./difference-words.ts";
import { tillOf, wayBack } from "./routes.ts";

type WithTill = { Params: { tillId: string }; Querystring: { again?: unknown } };

const form = z.strictObject({
  witness: cashUpShape.shape.witness,
  note: cashUpShape.shape.note,
});

/** Counting a drawer and closing its till; the expected sum is shown only after the count. */
export async function cashUpPages(app: App): Promise<void> {
  const counts = { config: { access: ["cashier", "treasurer", "chair"] as const } };

  app.get<WithTill>("/till/:tillId/cash-up", counts, async (request, reply) =>
    reply.page("till/cash-up", await page(request as Request)),
  );

  app.post<WithTill>("/till/:tillId/cash-up", counts, async (request, reply) => {
    const till = await tillOf(request as Request);
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const read = readCount(request.body, guild.currency);
    const done = read.ok
      ? await countDrawer(request.deed(), { tillId: till.id, ...read.value })
      : read;
    if (!done.ok) return refused(request as Request, reply, done.problem);
    if (!done.value.closed) return reply.seeOther(`/till/${till.id}/cash-up`);
    return closed(reply, till.number, done.value.sessionId);
  });

  app.post<WithTill>("/till/:tillId/cash-up/as-counted", counts, async (request, reply) => {
    const till = await tillOf(request as Request);
    const done = await closeAsCounted(request.deed(), { tillId: till.id });
    if (!done.ok) return refused(request as Request, reply, done.problem);
    return closed(reply, till.number, done.value.sessionId);
  });
}

const closed = (reply: Reply, number: number, sessionId: string) =>
  reply.seeOther(`/cash-ups/${sessionId}`, {
    kind: "good",
    text: `Till ${number} is cashed up and closed.`,
  });

const refused = async (request: Request, reply: Reply, problem: Problem) =>
  reply.page("till/cash-up", await page(request, problem), problem.status);

/** Every wrong field at once, those of the count first. */
function readCount(body: unknown, currency: string): Result<CashUpInput> {
  const read = readForm(form, withoutCount(body, "counted"));
  const cash = readCash(body, currency, "counted");
  if (!read.ok && !cash.ok) read.problem.errors = [...cash.problem.errors, ...read.problem.errors];
  if (!read.ok) return read;
  return cash.ok ? ok({ ...read.value, counted: cash.value.sum, counts: cash.value.counts }) : cash;
}

async function page(request: Request, problem?: Problem) {
  const till = await tillOf(request);
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const kept = till.open ? await standingCountOf(db, till.open.sessionId, till.id) : undefined;
  const again =
    kept !== undefined && ("again" in (request.query as object) || problem !== undefined);
  const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
  return {
    title: `Cash up till ${till.number}`,
    action: `/till/${till.id}/cash-up`,
    way: wayBack(request, till),
    till: { number: till.number, name: till.name, sale: till.sale.name },
    isOpen: till.open !== null,
    countFields: countFields(guild),
    again,
    first: kept &&
      !again && {
        difference: differenceWords(kept.counted - kept.expected, money),
        counted: money(kept.counted),
        expected: money(kept.expected),
        people: `${kept.by} and ${kept.witness}`,
      },
    values: problem ? request.body : undefined,
    problem,
  };
}
