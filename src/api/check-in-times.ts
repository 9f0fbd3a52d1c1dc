import { z } from "zod";
import { pickCheckInTime } from "../actions/check-in-times/pick-time.ts";
import {
  changeCheckInTime,
  planCheckInTimes,
  withdrawCheckInTime,
} from "../actions/check-in-times/plan-times.ts";
import {
  checkInListed,
  checkInTimeChange,
  checkInTimeShown,
  checkInTimesShape,
  checkInTimeVersion,
  pickShape,
} from "../contract/check-in-time.ts";
import { listCheckInTimes, membersAt } from "../database/check-in-times.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { groupBy } from "../rules/group-by.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const signedIn = { access: "signed-in" as const };
const lookers = { access: ["chair", "desk", "treasurer"] as const };
const planners = { access: ["chair", "desk"] as const };
const tags = ["check-in times"];
const params = z.object({ id: z.uuid() });
const changed = z.object({ id: z.uuid(), version: z.int() });

/** When members bring their pieces: planned, picked, and listed for the desk. */
export async function checkInTimeApi(app: App): Promise<void> {
  await app.register(reads);
  await app.register(planning);
  await app.register(picking);
}

async function reads(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const wantSale = async (id: string) => {
    if (!(await db.sale.findUnique({ where: { id } }))) throw notFound("this sale");
  };

  route.get("/sales/:id/check-in-times", {
    config: signedIn,
    schema: {
      tags,
      summary: "The check-in times of a sale, with the places taken and which is mine",
      params,
      querystring: pageQuery.omit({ q: true }).extend({ after: z.uuid().optional() }),
      response: { 200: pageOf(checkInTimeShown), ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      await wantSale(id);
      const search = { memberId: request.who().id, ...request.query };
      const { items, next } = await listCheckInTimes(db, id, search);
      const shown = items.map((time) => ({ ...time, startsAt: time.startsAt.toISOString() }));
      return { items: shown, next };
    },
  });

  route.get("/sales/:id/check-in-list", {
    config: lookers,
    schema: {
      tags,
      summary: "Who comes when: the check-in times of a sale with their members",
      params,
      querystring: pageQuery.extend({ after: z.uuid().optional() }),
      response: { 200: pageOf(checkInListed), ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      await wantSale(id);
      const search = { memberId: request.who().id, ...request.query };
      const { items, next } = await listCheckInTimes(db, id, search);
      const ids = items.map((time) => time.id);
      const coming = groupBy(await membersAt(db, ids), ({ timeId }) => timeId);
      const listed = items.map((time) => ({
        ...time,
        startsAt: time.startsAt.toISOString(),
        members: coming.get(time.id) ?? [],
      }));
      return { items: listed, next };
    },
  });
}

async function planning(app: App): Promise<void> {
  const route = typed(app);

  route.post("/sales/:id/check-in-times", {
    config: planners,
    schema: {
      tags,
      summary: "Plan check-in times: a span of a day, cut into times of the same length",
      params,
      body: checkInTimesShape,
      response: { 201: z.object({ ids: z.array(z.uuid()) }), ...refusals },
    },
    handler: async (request, reply) => {
      const { id } = request.params;
      return reply
        .code(201)
        .send(orRefuse(await planCheckInTimes(request.deed(), id, request.body)));
    },
  });

  route.put("/check-in-times/:id", {
    config: planners,
    schema: {
      tags,
      summary: "Move a check-in time or change its places, from the version that was read",
      params,
      body: checkInTimeChange,
      response: { 200: changed, ...refusals },
    },
    handler: async (request) =>
      orRefuse(await changeCheckInTime(request.deed(), request.params.id, request.body)),
  });

  route.post("/check-in-times/:id/withdrawal", {
    config: planners,
    schema: {
      tags,
      summary: "Take a check-in time off the list, while nobody has picked it",
      params,
      body: checkInTimeVersion,
      response: { 201: changed, ...refusals },
    },
    handler: async (request, reply) => {
      const given = { id: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await withdrawCheckInTime(request.deed(), given)));
    },
  });
}

async function picking(app: App): Promise<void> {
  typed(app).put("/me/check-in-times/:id", {
    config: signedIn,
    schema: {
      tags,
      summary: "Pick my check-in time for the sale with this id, another one, or null for none",
      params,
      body: pickShape,
      response: { 200: z.object({ saleId: z.uuid(), timeId: z.uuid().nullable() }), ...refusals },
    },
    handler: async (request) => {
      const picked = { saleId: request.params.id, ...request.body };
      return orRefuse(await pickCheckInTime(request.deed(), picked, app.now()));
    },
  });
}
