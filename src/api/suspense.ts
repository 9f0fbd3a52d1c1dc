import { z } from "zod";
import { findOwner } from "../actions/find-owner.ts";
import { identifiedShown, ownerShape, suspendedShown } from "../contract/suspense.ts";
import { findSale } from "../database/sales.ts";
import { listSuspense } from "../database/suspense.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };

/** Money that was taken for pieces whose owner is not known yet. */
export async function suspenseApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/sales/:saleId/suspense", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Lines of receipts that are nobody's yet",
      params: z.object({ saleId: z.uuid() }),
      querystring: pageQuery.extend({ after: z.uuid().optional() }),
      response: { 200: pageOf(suspendedShown), ...refusals },
    },
    handler: async ({ params, query }) => {
      if (!(await findSale(app.parts.db, params.saleId))) throw notFound("this sale");
      const { items, next } = await listSuspense(app.parts.db, params.saleId, query);
      return {
        next,
        items: items.map(({ tillNumber, receiptNumber, at, amount, ...line }) => ({
          ...line,
          receipt: showReceiptNumber(tillNumber, receiptNumber),
          at: at.toISOString(),
          amount: Number(amount),
        })),
      };
    },
  });

  route.post("/suspense/:id/owner", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Say whose a line is: a member's, a piece's, or the guild's",
      params: z.object({ id: z.uuid() }),
      body: ownerShape,
      response: { 201: identifiedShown, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { ...request.body, lineId: request.params.id };
      return reply.code(201).send(orRefuse(await findOwner(request.deed(), input)));
    },
  });
}
