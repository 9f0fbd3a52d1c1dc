import { z } from "zod";
import { recordAdjustment } from "../actions/adjustments/record-adjustment.ts";
import { takeBackAdjustment } from "../actions/adjustments/take-back-adjustment.ts";
import {
  adjustmentMade,
  adjustmentShape,
  adjustmentShown,
  takeBackShape,
} from "../contract/adjustment.ts";
import { listAdjustments } from "../database/adjustments.ts";
import { findSale } from "../database/sales.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });
const tags = ["settlement"];

/** Money for members or from them by somebody's decision, and taking that back. */
export async function adjustmentApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/sales/:id/adjustments", {
    config: books,
    schema: {
      tags,
      summary: "The adjustments of a sale, the newest first",
      params,
      querystring: pageQuery.extend({ after: z.uuid().optional() }),
      response: { 200: pageOf(adjustmentShown), ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      if (!(await findSale(db, id))) throw notFound("this sale");
      const { items, next } = await listAdjustments(db, id, query);
      return { items: items.map((one) => ({ ...one, at: one.at.toISOString() })), next };
    },
  });

  route.post("/sales/:id/adjustments", {
    config: books,
    schema: {
      tags,
      summary: "Record an adjustment: above zero for the member, below zero from the member",
      params,
      body: adjustmentShape,
      response: { 201: adjustmentMade, ...refusals },
    },
    handler: async (request, reply) => {
      const made = await recordAdjustment(request.deed(), request.params.id, request.body);
      return reply.code(201).send(orRefuse(made));
    },
  });

  route.post("/adjustments/:id/opposite", {
    config: books,
    schema: {
      tags,
      summary: "Take an adjustment back by its opposite, once",
      params,
      body: takeBackShape,
      response: { 201: adjustmentMade, ...refusals },
    },
    handler: async (request, reply) => {
      const given = { adjustmentId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await takeBackAdjustment(request.deed(), given)));
    },
  });
}
