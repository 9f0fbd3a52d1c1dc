import { z } from "zod";
import { addLabelStock, editLabelStock, retireLabelStock } from "../actions/label-stocks.ts";
import { addPrinter, editPrinter, retirePrinter } from "../actions/printers.ts";
import {
  labelStockChange,
  labelStockShape,
  printerChange,
  printerShape,
} from "../contract/label-stock.ts";
import { listLabelStocks, listPrinters } from "../database/label-stocks.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { checkedStock } from "../printing/checked-stock.ts";
import { type Stock, stockNames, stocks } from "../printing/stock.ts";
import { refusals, typed } from "./typed.ts";

const tags = ["tags"];
const signedIn = { access: "signed-in" as const };
const helps = { access: ["desk", "chair"] as const };
const params = z.object({ id: z.uuid() });
const kept = z.object({ id: z.uuid(), version: z.int() });
const retired = z.object({ id: z.uuid() });
const stockShown = labelStockShape.extend({
  /** What a print names it by: a shipped stock's name, or the id of one of the guild's own. */
  stock: z.string(),
  version: z.int().nullable(),
});

export async function labelStockApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/label-stocks", {
    config: signedIn,
    schema: {
      tags,
      summary: "Label stocks: the usual ones and the guild's own; lengths in millimetres",
      response: { 200: z.object({ items: z.array(stockShown) }), ...refusals },
    },
    handler: async () => {
      const own = await listLabelStocks(app.parts.db);
      const shipped = stockNames.map((name) => ({
        ...(stocks[name] as Stock),
        ...{ stock: name as string, version: null },
      }));
      return {
        items: [
          ...shipped,
          ...own.map(({ id, shape, version }) => ({ ...(shape as Stock), stock: id, version })),
        ],
      };
    },
  });

  route.post("/label-stocks", {
    config: helps,
    schema: {
      tags,
      summary: "Add a stock of the guild's own",
      body: labelStockShape,
      response: { 201: kept, ...refusals },
    },
    handler: async (request, reply) => {
      const stock = orRefuse(checkedStock(request.body));
      return reply.code(201).send(orRefuse(await addLabelStock(request.deed(), stock)));
    },
  });

  route.put("/label-stocks/:id", {
    config: helps,
    schema: {
      tags,
      summary: "Change a stock of the guild's own, from the version that was read",
      params,
      body: labelStockChange,
      response: { 200: kept, ...refusals },
    },
    handler: async (request) => {
      const { version, ...shape } = request.body;
      const stock = orRefuse(checkedStock(shape));
      const change = { ...stock, version };
      return orRefuse(await editLabelStock(request.deed(), request.params.id, change));
    },
  });

  route.post("/label-stocks/:id/retirement", {
    config: helps,
    schema: {
      tags,
      summary: "Take a stock of the guild's own off the lists",
      params,
      body: z.strictObject({}).optional(),
      response: { 201: retired, ...refusals },
    },
    handler: async (request, reply) =>
      reply.code(201).send(orRefuse(await retireLabelStock(request.deed(), request.params.id))),
  });

  await app.register(printerApi);
}

const printerShown = printerShape.extend({ id: z.uuid(), version: z.int() });

async function printerApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/printers", {
    config: signedIn,
    schema: {
      tags,
      summary: "Printers with how far each is off",
      response: { 200: z.object({ items: z.array(printerShown) }), ...refusals },
    },
    handler: async () => ({ items: await listPrinters(app.parts.db) }),
  });

  route.post("/printers", {
    config: helps,
    schema: {
      tags,
      summary: "Keep how far a printer is off",
      body: printerShape,
      response: { 201: kept, ...refusals },
    },
    handler: async (request, reply) =>
      reply.code(201).send(orRefuse(await addPrinter(request.deed(), request.body))),
  });

  route.put("/printers/:id", {
    config: helps,
    schema: {
      tags,
      summary: "Change a printer, from the version that was read",
      params,
      body: printerChange,
      response: { 200: kept, ...refusals },
    },
    handler: async (request) =>
      orRefuse(await editPrinter(request.deed(), request.params.id, request.body)),
  });

  route.post("/printers/:id/retirement", {
    config: helps,
    schema: {
      tags,
      summary: "Take a printer off the list",
      params,
      body: z.strictObject({}).optional(),
      response: { 201: retired, ...refusals },
    },
    handler: async (request, reply) =>
      reply.code(201).send(orRefuse(await retirePrinter(request.deed(), request.params.id))),
  });
}
