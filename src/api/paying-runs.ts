import { z } from "zod";
import { dropRunItems, payRunItems } from "../actions/end-run-items.ts";
import { prepareRun } from "../actions/prepare-run.ts";
import {
  dropItemsShape,
  endedShape,
  payRunShape,
  preparedShape,
  prepareRunShape,
  runRowShape,
  runShape,
  toPrepareShape,
} from "../contract/paying.ts";
import { findRun, listRuns } from "../database/paying-runs.ts";
import { listToPrepare } from "../database/to-prepare.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { accountEnding } from "../rules/paying/bank-account.ts";
import { payoutMethods } from "../rules/statement.ts";
import { payingFileApi } from "./paying-files.ts";
import { pageOf, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });
const page = z.object({
  after: z.coerce.number().int().min(1).max(2_000_000_000).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
  q: z.string().trim().max(100).optional(),
});

/** Paying members together: whom, the runs with their files, and what became of each payment. */
export async function payingRunApi(app: App): Promise<void> {
  await app.register(reads);
  await app.register(preparing);
  await app.register(ending);
  await app.register(payingFileApi);
}

async function reads(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/paying-runs", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "Paying runs, the newest first",
      description: "`after` is the number of the last run seen.",
      querystring: page,
      response: { 200: pageOf(runRowShape), ...refusals },
    },
    handler: async ({ query: { after, ...query } }) => {
      const { items, next } = await listRuns(db, { ...query, before: after });
      const shown = items.map((run) => ({
        ...run,
        day: run.day.toISOString().slice(0, 10),
        at: run.at.toISOString(),
      }));
      return { items: shown, next };
    },
  });

  route.get("/paying-runs/:id", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "A paying run with its payments",
      params,
      response: { 200: runShape, ...refusals },
    },
    handler: async ({ params: { id } }) => {
      const run = await findRun(db, id);
      if (!run) throw notFound("this paying run");
      const items = run.items.map((item) => ({ ...item, account: accountEnding(item.account) }));
      return { ...run, at: run.at.toISOString(), currency: run.heading.currency, items };
    },
  });
}

async function preparing(app: App): Promise<void> {
  const route = typed(app);

  route.get("/paying-runs/to-prepare", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "Statements that can be prepared for paying",
      description: "`after` is the last statement number seen.",
      querystring: page.extend({
        saleId: z.uuid().optional(),
        method: z.enum(payoutMethods).optional(),
      }),
      response: { 200: pageOf(toPrepareShape), ...refusals },
    },
    handler: async ({ query }) => {
      const { items, next } = await listToPrepare(app.parts.db, query);
      const shown = items.map((one) => ({ ...one, hasAccount: one.account !== "" }));
      return { items: shown, next: next === null ? null : String(next) };
    },
  });

  route.post("/paying-runs", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "Prepare payouts together; nothing is recorded as paid yet",
      body: prepareRunShape,
      response: { 201: preparedShape, ...refusals },
    },
    handler: async (request, reply) =>
      reply.code(201).send(orRefuse(await prepareRun(request.deed(), request.body))),
  });
}

async function ending(app: App): Promise<void> {
  const route = typed(app);

  route.post("/paying-runs/:id/payments", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "Record payments of a run as made: all that wait, or those at `positions`",
      params,
      body: payRunShape,
      response: { 201: endedShape, ...refusals },
    },
    handler: async (request, reply) => {
      const { id } = request.params;
      return reply.code(201).send(orRefuse(await payRunItems(request.deed(), id, request.body)));
    },
  });

  route.post("/paying-runs/:id/drops", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "Drop payments from a run, with a reason; they can be prepared again",
      params,
      body: dropItemsShape,
      response: { 201: endedShape, ...refusals },
    },
    handler: async (request, reply) => {
      const { id } = request.params;
      return reply.code(201).send(orRefuse(await dropRunItems(request.deed(), id, request.body)));
    },
  });
}
