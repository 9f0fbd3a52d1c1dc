import { z } from "zod";
import { resultsShape, soldPieceShape } from "../contract/books.ts";
import { listSoldPieces, owedBy, resultsOf } from "../database/results.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, refusals, typed } from "./typed.ts";

const mine = { access: "signed-in" as const };

/** A member's own results; there is no way to ask for anybody else's. */
export async function resultsApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/me/results", {
    config: mine,
    schema: {
      tags: ["results"],
      summary: "What I entered, what sold and what I am owed, by sale",
      response: { 200: resultsShape, ...refusals },
    },
    handler: async (request) => {
      const sales = await resultsOf(db, request.who().id);
      return { owed: owedBy(sales), sales };
    },
  });

  route.get("/me/results/:saleId/sold", {
    config: mine,
    schema: {
      tags: ["results"],
      summary: "My pieces that sold in a sale, the newest first",
      params: z.object({ saleId: z.uuid() }),
      querystring: z.object({
        after: z.uuid().optional(),
        limit: z.coerce.number().int().min(1).max(200).default(50),
      }),
      response: { 200: pageOf(soldPieceShape), ...refusals },
    },
    handler: async (request) => {
      const which = { memberId: request.who().id, saleId: request.params.saleId };
      const { items, next } = await listSoldPieces(db, which, request.query);
      return { items: items.map((one) => ({ ...one, at: one.at.toISOString() })), next };
    },
  });
}
