import { z } from "zod";
import { cashUp, countDrawer } from "../actions/cash-up.ts";
import { moveCash } from "../actions/move-cash.ts";
import { cashMoveKinds, cashMoveShape, cashUpShape } from "../contract/till.ts";
import { listCashMoves } from "../database/cash-moves.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const counts = { access: ["cashier", "treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });
const cashedUp = z.object({
  sessionId: z.uuid(),
  expected: z.int(),
  counted: z.int(),
  difference: z.int(),
});
const moveShown = z.object({
  id: z.uuid(),
  kind: z.enum(cashMoveKinds),
  amount: z.int(),
  reason: z.string(),
  by: z.string(),
  at: z.string(),
});

/** What goes into and out of a drawer without a sale, and counting it. */
export async function drawerApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/tills/:id/cash-moves", {
    config: counts,
    schema: {
      tags: ["till"],
      summary: "Cash that moved without a sale since the till was opened, newest first",
      params,
      response: { 200: z.object({ items: z.array(moveShown) }), ...refusals },
    },
    handler: async ({ params: { id } }) => ({ items: await listCashMoves(app.parts.db, id) }),
  });

  route.post("/tills/:id/cash-moves", {
    config: counts,
    schema: {
      tags: ["till"],
      summary: "Cash that goes to the safe, or in or out of the drawer without a sale",
      params,
      body: cashMoveShape,
      response: {
        201: z.object({ id: z.uuid(), recorded: z.enum(["now", "before"]) }),
        ...refusals,
      },
    },
    handler: async (request, reply) => {
      const input = { tillId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await moveCash(request.deed(), input)));
    },
  });

  route.post("/tills/:id/counts", {
    config: counts,
    schema: {
      tags: ["till"],
      summary: "Count the drawer; a first count that differs is kept and leaves the till open",
      params,
      body: cashUpShape,
      response: { 201: cashedUp.extend({ closed: z.boolean() }), ...refusals },
    },
    handler: async (request, reply) => {
      const input = { tillId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await countDrawer(request.deed(), input)));
    },
  });

  route.post("/tills/:id/cash-up", {
    config: counts,
    schema: {
      tags: ["till"],
      summary: "Close the till with this count, whatever the books expect",
      params,
      body: cashUpShape,
      response: { 201: cashedUp, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { tillId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await cashUp(request.deed(), input)));
    },
  });
}
