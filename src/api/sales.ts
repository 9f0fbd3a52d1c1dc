import { z } from "zod";
import { addSale } from "../actions/add-sale.ts";
import { editSale } from "../actions/edit-sale.ts";
import { moveSale } from "../actions/move-sale.ts";
import { moveShape, saleChange, saleShape, saleShown } from "../contract/sale.ts";
import { findSale, listSales } from "../database/sales.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const chair = { access: ["chair"] as const };
const anyone = { access: "signed-in" as const };
const params = z.object({ id: z.uuid() });

export async function saleApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const shown = async (id: string) => {
    const sale = await findSale(db, id);
    if (!sale) throw notFound("this sale");
    return sale;
  };

  route.get("/sales", {
    config: anyone,
    schema: {
      tags: ["sales"],
      summary: "Sales, the newest first",
      querystring: pageQuery.extend({ after: z.uuid().optional() }),
      response: { 200: pageOf(saleShown), ...refusals },
    },
    handler: async (request) => listSales(db, request.query),
  });

  route.post("/sales", {
    config: chair,
    schema: {
      tags: ["sales"],
      summary: "Plan a sale",
      body: saleShape,
      response: { 201: saleShown, ...refusals },
    },
    handler: async (request, reply) => {
      const { id } = orRefuse(await addSale(request.deed(), request.body));
      return reply.code(201).send(await shown(id));
    },
  });

  route.get("/sales/:id", {
    config: anyone,
    schema: {
      tags: ["sales"],
      summary: "One sale",
      params,
      response: { 200: saleShown, ...refusals },
    },
    handler: async (request) => shown(request.params.id),
  });

  route.patch("/sales/:id", {
    config: chair,
    schema: {
      tags: ["sales"],
      summary: "Change a sale as far as its stage allows",
      params,
      body: saleChange,
      response: { 200: saleShown, ...refusals },
    },
    handler: async (request) => {
      orRefuse(await editSale(request.deed(), request.params.id, request.body));
      return shown(request.params.id);
    },
  });

  route.post("/sales/:id/moves", {
    config: chair,
    schema: {
      tags: ["sales"],
      summary: "Move a sale one stage on, or one back with a reason",
      params,
      body: moveShape,
      response: { 201: saleShown, ...refusals },
    },
    handler: async (request, reply) => {
      orRefuse(await moveSale(request.deed(), request.params.id, request.body));
      return reply.code(201).send(await shown(request.params.id));
    },
  });
}
