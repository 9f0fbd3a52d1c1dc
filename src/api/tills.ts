import { z } from "zod";
import { unknownWords } from "../actions/floor-refusal.ts";
import { openTill } from "../actions/open-till.ts";
import { tillItemShape } from "../contract/receipt-shown.ts";
import { openingShape } from "../contract/till.ts";
import { listDiscrepancies } from "../database/discrepancies.ts";
import { lookUpTag } from "../database/till-look-up.ts";
import { orRefuse, RefusedRequest } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { problem } from "../rules/problem.ts";
import { readTag, showTag } from "../rules/tag-number.ts";
import { drawerApi } from "./drawer.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const sells = { access: ["cashier", "chair"] as const };
const tillParams = z.object({ id: z.uuid() });
const discrepancy = z.object({
  id: z.string(),
  kind: z.string(),
  receiptId: z.uuid().nullable(),
  detail: z.unknown(),
  at: z.string(),
});

export async function tillApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/sales/:saleId/till-items/:tag", {
    // Eight tills of one hall share one address, and each of them is signed in.
    config: { ...sells, rateLimit: false },
    schema: {
      tags: ["till"],
      summary: "A tag at the till: description, price, and whether it can be sold",
      params: z.object({ saleId: z.uuid(), tag: z.string().max(40) }),
      response: { 200: tillItemShape, ...refusals },
    },
    handler: async ({ params }) => {
      const tag = orRefuse(readTag(params.tag, [8, 10]));
      const found = await lookUpTag(app.parts.db, tag);
      if (found?.saleId !== params.saleId) throw unknownTag(tag, found !== undefined);
      return { ...found, shownTag: showTag(tag) };
    },
  });

  route.post("/tills/:id/sessions", {
    config: sells,
    schema: {
      tags: ["till"],
      summary: "Open a till with its float",
      params: tillParams,
      body: openingShape,
      response: { 201: z.object({ sessionId: z.uuid() }), ...refusals },
    },
    handler: async (request, reply) => {
      const input = { tillId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await openTill(request.deed(), input)));
    },
  });

  await app.register(drawerApi);

  route.get("/sales/:saleId/discrepancies", {
    config: { access: ["treasurer", "chair"] },
    schema: {
      tags: ["books"],
      summary: "Where two accounts of one event do not agree",
      params: z.object({ saleId: z.uuid() }),
      querystring: pageQuery,
      response: { 200: pageOf(discrepancy), ...refusals },
    },
    handler: async ({ params, query }) => listDiscrepancies(app.parts.db, params.saleId, query),
  });
}

function unknownTag(tag: string, elsewhere: boolean): RefusedRequest {
  const message = unknownWords(tag, elsewhere);
  return new RefusedRequest(problem("unknown-tag", message, [{ field: "tag", message }]));
}
