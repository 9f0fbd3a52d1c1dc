import { z } from "zod";
import { checkInItem } from "../actions/check-in-item.ts";
import { pickUpItem } from "../actions/pick-up-item.ts";
import { checkedInShape, checkInShape, pickedUpShape, pickUpShape } from "../contract/desk.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const helps = { access: ["desk", "chair"] as const };
const params = z.object({ saleId: z.uuid() });

export async function deskApi(app: App): Promise<void> {
  const route = typed(app);

  route.post("/sales/:saleId/check-ins", {
    config: helps,
    schema: {
      tags: ["desk"],
      summary: "Take a piece in, or turn it away with a reason",
      params,
      body: checkInShape,
      response: { 201: checkedInShape, ...refusals },
    },
    handler: async (request, reply) => {
      const given = { ...request.body, saleId: request.params.saleId };
      return reply.code(201).send(orRefuse(await checkInItem(request.deed(), given)));
    },
  });

  route.post("/sales/:saleId/pick-ups", {
    config: helps,
    schema: {
      tags: ["desk"],
      summary: "Hand pieces back to their member; before the sale is over with a reason",
      params,
      body: pickUpShape,
      response: { 201: pickedUpShape, ...refusals },
    },
    handler: async (request, reply) => {
      const given = { ...request.body, saleId: request.params.saleId };
      return reply.code(201).send(orRefuse(await pickUpItem(request.deed(), given)));
    },
  });
}
