import { z } from "zod";
import { lookIntoDrawer } from "../actions/look-into-drawer.ts";
import { differenceShown, hindranceShape, lookIntoShape } from "../contract/hindrance.ts";
import { drawerDifferences } from "../database/drawer-differences.ts";
import { hindrancesOf } from "../database/hindrances.ts";
import { findSale } from "../database/sales.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ saleId: z.uuid() });

/** What stands in the way of settling a sale, and drawers that did not come out even. */
export async function hindranceApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/sales/:saleId/settlement/hindrances", {
    config: books,
    schema: {
      tags: ["settlement"],
      summary: "What stands in the way of settling a sale, what must be done first",
      params,
      response: { 200: z.object({ items: z.array(hindranceShape) }), ...refusals },
    },
    handler: async ({ params: { saleId } }) => {
      if (!(await findSale(db, saleId))) throw notFound("this sale");
      return { items: await hindrancesOf(db, saleId) };
    },
  });

  route.get("/sales/:saleId/drawer-differences", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Cash-ups that did not come out even; without `all` those nobody has looked into",
      description: "`after` is the last session seen.",
      params,
      querystring: z.object({
        all: z.enum(["yes", "no"]).default("no"),
        after: z.uuid().optional(),
        limit: z.coerce.number().int().min(1).max(200).default(50),
      }),
      response: { 200: pageOf(differenceShown), ...refusals },
    },
    handler: async ({ params: { saleId }, query: { all, ...page } }) => {
      if (!(await findSale(db, saleId))) throw notFound("this sale");
      const { items, next } = await drawerDifferences(db, saleId, { ...page, all: all === "yes" });
      return {
        next,
        items: items.map(({ at, lookedInto, ...row }) => ({
          ...row,
          at: at.toISOString(),
          lookedInto: lookedInto && { ...lookedInto, at: lookedInto.at.toISOString() },
        })),
      };
    },
  });

  route.post("/sales/:saleId/cash-ups/:id/looked-into", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Note what came of looking into a drawer that did not come out even",
      params: params.extend({ id: z.uuid() }),
      body: lookIntoShape,
      response: { 201: z.object({ sessionId: z.uuid() }), ...refusals },
    },
    handler: async (request, reply) => {
      const { saleId, id: sessionId } = request.params;
      const input = { ...request.body, saleId, sessionId };
      return reply.code(201).send(orRefuse(await lookIntoDrawer(request.deed(), input)));
    },
  });
}
