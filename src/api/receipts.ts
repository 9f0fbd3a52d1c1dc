import { z } from "zod";
import { recordReceipt } from "../actions/record-receipt.ts";
import { returnGoods } from "../actions/return-goods.ts";
import { voidReceipt } from "../actions/void-receipt.ts";
import { receiptShape, returnShape, voidShape } from "../contract/receipt.ts";
import {
  receiptInListShape,
  receiptShownShape,
  recordedShape,
  reversedShape,
} from "../contract/receipt-shown.ts";
import { listReceipts } from "../database/receipt-list.ts";
import { gatherReceipt } from "../database/receipt-paper.ts";
import { readReceipt } from "../database/receipts.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { printReceipt } from "../printing/receipt.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const sells = { access: ["cashier", "chair"] as const };
const reads = { access: ["cashier", "treasurer", "chair"] as const };
const saleParams = z.object({ saleId: z.uuid() });
const receiptParams = z.object({ id: z.uuid() });

export async function receiptApi(app: App): Promise<void> {
  const route = typed(app);

  route.post("/sales/:saleId/receipts", {
    // Eight tills of one hall share one address, and each of them is signed in.
    config: { ...sells, keyless: true, rateLimit: false },
    schema: {
      tags: ["till"],
      summary: "Record a sale",
      description:
        "The receipt id is made by the till and is the key: sent again, the same receipt answers 200 with recorded: before.",
      params: saleParams,
      body: receiptShape,
      response: { 200: recordedShape, 201: recordedShape, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { ...request.body, saleId: request.params.saleId };
      const recorded = orRefuse(await recordReceipt(request.deed(), input));
      return reply.code(recorded.recorded === "now" ? 201 : 200).send(recorded);
    },
  });

  route.get("/sales/:saleId/receipts", {
    config: reads,
    schema: {
      tags: ["till"],
      summary: "The receipts of a sale, newest first",
      params: saleParams,
      querystring: pageQuery.extend({ tillId: z.uuid().optional() }),
      response: { 200: pageOf(receiptInListShape), ...refusals },
    },
    handler: async ({ params, query }) =>
      listReceipts(app.parts.db, { ...params, ...query }, query),
  });

  route.get("/receipts/:id", {
    config: reads,
    schema: {
      tags: ["till"],
      summary: "One receipt with its lines, tenders, voids and returns",
      params: receiptParams,
      response: { 200: receiptShownShape, ...refusals },
    },
    handler: async ({ params }) => {
      const receipt = await readReceipt(app.parts.db, params.id);
      if (!receipt) throw notFound("this receipt");
      return receipt;
    },
  });

  app.get<{ Params: { id: string }; Querystring: { copy?: string } }>("/receipts/:id/pdf", {
    config: reads,
    schema: {
      tags: ["till"],
      summary: "A receipt on paper 80 mm wide, as PDF",
      params: receiptParams,
      querystring: z.object({ copy: z.enum(["yes", "no"], "Say yes or no").default("no") }),
    },
    handler: async ({ params, query }, reply) => {
      const found = await gatherReceipt(app.parts.db, params.id, query.copy === "yes");
      if (!found) throw notFound("this receipt");
      const bytes = await printReceipt(found.paper, found);
      return reply
        .type("application/pdf")
        .header("content-disposition", `inline; filename="receipt-${found.receipt.name}.pdf"`)
        .send(Buffer.from(bytes));
    },
  });

  route.post("/receipts/:id/void", {
    config: sells,
    schema: {
      tags: ["till"],
      summary: "Call a receipt off before its till is cashed up",
      params: receiptParams,
      body: voidShape,
      response: { 201: reversedShape, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { receiptId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await voidReceipt(request.deed(), input)));
    },
  });

  route.post("/receipts/:id/returns", {
    config: sells,
    schema: {
      tags: ["till"],
      summary: "Take pieces back and give their price and tax back",
      params: receiptParams,
      body: returnShape,
      response: { 201: reversedShape, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { receiptId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await returnGoods(request.deed(), input)));
    },
  });
}
