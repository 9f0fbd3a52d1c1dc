import { z } from "zod";
import { addGood, changeGood } from "../actions/guild-goods.ts";
import { goodChange, goodShape, goodShown } from "../contract/guild-goods.ts";
import { listGuildGoods } from "../database/guild-goods.ts";
import { findSale } from "../database/sales.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const chair = { access: ["chair"] as const };
const params = z.object({ id: z.uuid() });

/** What the guild itself sells at a sale's tills. */
export async function guildGoodsApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/sales/:id/goods", {
    config: { access: ["cashier", "treasurer", "chair"] },
    schema: {
      tags: ["sales"],
      summary: "The guild's own goods and gifts, in the order of the buttons",
      params,
      response: { 200: z.object({ items: z.array(goodShown) }), ...refusals },
    },
    handler: async ({ params: { id } }) => {
      if (!(await findSale(app.parts.db, id))) throw notFound("this sale");
      return { items: await listGuildGoods(app.parts.db, id, { retired: true }) };
    },
  });

  route.post("/sales/:id/goods", {
    config: chair,
    schema: {
      tags: ["sales"],
      summary: "Add a button for the guild's own goods or a gift",
      params,
      body: goodShape,
      response: { 201: z.object({ id: z.uuid() }), ...refusals },
    },
    handler: async (request, reply) =>
      reply
        .code(201)
        .send(orRefuse(await addGood(request.deed(), request.params.id, request.body))),
  });

  route.put("/guild-goods/:id", {
    config: chair,
    schema: {
      tags: ["sales"],
      summary: "Change a button, move it, or take it off the tills",
      params,
      body: goodChange,
      response: { 200: z.object({ id: z.uuid(), version: z.int() }), ...refusals },
    },
    handler: async (request) =>
      orRefuse(await changeGood(request.deed(), request.params.id, request.body)),
  });
}
