import { z } from "zod";
import { changeShift, withdrawShift } from "../actions/shifts/change-shift.ts";
import { planShifts, previewShifts } from "../actions/shifts/plan-many.ts";
import { planShift } from "../actions/shifts/plan-shift.ts";
import { tickShift } from "../actions/shifts/tick-shift.ts";
import {
  shiftChange,
  shiftListShape,
  shiftPreview,
  shiftShape,
  shiftShown,
  shiftVersion,
  tickShape,
} from "../contract/shift.ts";
import type { Database } from "../database/client.ts";
import { findSale } from "../database/sales.ts";
import { findShift, listShifts, type ShiftRead } from "../database/shifts.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const lookers = { access: ["chair", "desk", "treasurer"] as const };
const keepers = { access: ["chair", "desk"] as const };
const params = z.object({ id: z.uuid() });
const tags = ["shifts"];

/** Shifts of a sale: planned, pasted, ticked, and seen by the member whose they are. */
export async function shiftApi(app: App): Promise<void> {
  await app.register(planning);
  await app.register(oneShift);
}

const shown = ({ startsAt, markedAt, ...shift }: ShiftRead) => ({
  ...shift,
  startsAt: startsAt.toISOString(),
  markedAt: markedAt?.toISOString() ?? null,
});

async function shiftOf(db: Database, id: string) {
  const found = await findShift(db, id);
  if (!found) throw notFound("this shift");
  return shown(found);
}

async function planning(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const saleOf = async (id: string) => {
    const sale = await findSale(db, id);
    if (!sale) throw notFound("this sale");
    return sale;
  };

  route.get("/sales/:id/shifts", {
    config: lookers,
    schema: {
      tags,
      summary: "The shifts of a sale, by day and time",
      params,
      querystring: pageQuery.extend({
        after: z.uuid().optional(),
        open: z.stringbool().default(false).describe("Only what nobody has ticked yet"),
      }),
      response: { 200: pageOf(shiftShown), ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      await saleOf(id);
      const { items, next } = await listShifts(db, id, query);
      return { items: items.map(shown), next };
    },
  });

  route.post("/sales/:id/shifts", {
    config: keepers,
    schema: {
      tags,
      summary: "Plan a shift; an end that is not after the start is on the next day",
      params,
      body: shiftShape,
      response: { 201: shiftShown, ...refusals },
    },
    handler: async (request, reply) => {
      const planned = orRefuse(await planShift(request.deed(), request.params.id, request.body));
      return reply.code(201).send(await shiftOf(db, planned.id));
    },
  });

  route.post("/sales/:id/shifts/list/preview", {
    config: { ...keepers, keyless: true },
    schema: {
      tags,
      summary: "Read rows of shifts and say what is wrong with each; plans nothing",
      params,
      body: shiftListShape,
      response: { 200: shiftPreview, ...refusals },
    },
    handler: async ({ params: { id }, body }) =>
      orRefuse(await previewShifts(db, await saleOf(id), body.text)),
  });

  route.post("/sales/:id/shifts/list", {
    config: keepers,
    schema: {
      tags,
      summary: "Plan the good rows of a list, all of them or none",
      params,
      body: shiftListShape,
      response: { 201: z.object({ planned: z.int(), skipped: z.int() }), ...refusals },
    },
    handler: async (request, reply) => {
      const given = { saleId: request.params.id, text: request.body.text };
      return reply.code(201).send(orRefuse(await planShifts(request.deed(), given)));
    },
  });
}

async function oneShift(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/shifts/:id", {
    config: lookers,
    schema: { tags, summary: "One shift", params, response: { 200: shiftShown, ...refusals } },
    handler: async ({ params: { id } }) => shiftOf(db, id),
  });

  route.put("/shifts/:id", {
    config: keepers,
    schema: {
      tags,
      summary: "Plan a shift anew, while it is not ticked, from the version that was read",
      params,
      body: shiftChange,
      response: { 200: shiftShown, ...refusals },
    },
    handler: async (request) => {
      orRefuse(await changeShift(request.deed(), request.params.id, request.body));
      return shiftOf(db, request.params.id);
    },
  });

  route.put("/shifts/:id/tick", {
    config: keepers,
    schema: {
      tags,
      summary: "Tick a shift as worked or missed, or take the tick off, until the sale is closed",
      params,
      body: tickShape,
      response: { 200: shiftShown, ...refusals },
    },
    handler: async (request) => {
      const given = { shiftId: request.params.id, ...request.body };
      orRefuse(await tickShift(request.deed(), given, app.now()));
      return shiftOf(db, request.params.id);
    },
  });

  route.post("/shifts/:id/withdrawal", {
    config: keepers,
    schema: {
      tags,
      summary: "Take a shift off the list, while it is not ticked",
      params,
      body: shiftVersion,
      response: { 201: z.object({ id: z.uuid(), version: z.int() }), ...refusals },
    },
    handler: async (request, reply) => {
      const given = { shiftId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await withdrawShift(request.deed(), given)));
    },
  });
}
