import { z } from "zod";
import { declareFound, declareLost, leaveWithGuild } from "../actions/missing-pieces.ts";
import { leftPieceShape, piecesShape, tallyShape } from "../contract/desk.ts";
import { leftPlaces, listLeft } from "../database/left-pieces.ts";
import { findSale } from "../database/sales.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const accounts = { access: ["desk", "treasurer", "chair"] as const };
const params = z.object({ saleId: z.uuid() });

/** Pieces that were neither sold nor handed back, and what became of them. */
export async function leftPieceApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/sales/:saleId/left-pieces", {
    config: accounts,
    schema: {
      tags: ["desk"],
      summary: "Pieces still on the floor, missing, or left with the guild",
      description: "`after` is the last tag seen.",
      params,
      querystring: pageQuery.extend({
        place: z.enum(leftPlaces).default("floor"),
        after: z
          .string()
          .regex(/^\d{1,10}$/, "Give the last tag you saw")
          .optional(),
      }),
      response: { 200: pageOf(leftPieceShape), ...refusals },
    },
    handler: async ({ params: { saleId }, query }) => {
      if (!(await findSale(app.parts.db, saleId))) throw notFound("this sale");
      return listLeft(app.parts.db, saleId, query);
    },
  });

  for (const [path, act, summary] of [
    ["losses", declareLost, "Note pieces as missing, once selling is over"],
    ["finds", declareFound, "Put missing pieces that turned up back on the floor"],
    ["left-with-guild", leaveWithGuild, "Give unsold pieces to the guild, with the reason"],
  ] as const)
    route.post(`/sales/:saleId/${path}`, {
      config: accounts,
      schema: {
        tags: ["desk"],
        summary,
        params,
        body: piecesShape,
        response: { 201: tallyShape, ...refusals },
      },
      handler: async (request, reply) => {
        const given = { ...request.body, saleId: request.params.saleId };
        return reply.code(201).send(orRefuse(await act(request.deed(), given)));
      },
    });
}
