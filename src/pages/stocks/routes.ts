import { addLabelStock, editLabelStock, retireLabelStock } from "../../actions/label-stocks.ts";
import {
  findLabelStock,
  findPrinter,
  listLabelStocks,
  listPrinters,
  type OwnStock,
} from "../../database/label-stocks.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { calibrationOf, stockNamed } from "../../printing/paper.ts";
import { printRuler } from "../../printing/ruler.ts";
import { labelsOn, type Stock, stockNames, stocks } from "../../printing/stock.ts";
import { fileName } from "../../rules/file-name.ts";
import type { Problem } from "../../rules/problem.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { isId, wantId } from "../want-id.ts";
import { readStock, stockValues } from "./form.ts";
import { printerPages } from "./printer-routes.ts";

type WithId = { Params: { id: string } };
const helps = { config: { access: ["desk", "chair"] as const } };

/** What labels are printed on: the usual stocks, the guild's own, and the printers. */
export async function stockPages(app: App): Promise<void> {
  app.get("/stocks", helps, async (request, reply) =>
    reply.page("stocks/stocks", await stocksPage(request)),
  );

  app.get("/stocks/new", helps, async (request, reply) => {
    const name = textOf(request.query as Fields, "like");
    const like = await stockOfId(request, name === "" ? "letter-30" : name);
    const values = { ...stockValues(like), name: "", words: "" };
    return formPage(request, reply, { values });
  });

  app.post("/stocks", helps, async (request, reply) => {
    const read = readStock(request.body as Fields);
    const added = read.ok ? await addLabelStock(request.deed(), read.value) : read;
    if (!added.ok)
      return formPage(request, reply, { values: request.body as object, problem: added.problem });
    return reply.seeOther("/stocks", {
      kind: "good",
      text: "The stock is kept. Print its ruler sheet on plain paper and hold it against the labels.",
    });
  });

  app.get<WithId>("/stocks/:id/ruler.pdf", helps, async (request, reply) => {
    const stock = await stockOfId(request, request.params.id);
    const printerId = textOf(request.query as Fields, "printer");
    const printer = isId(printerId) ? await findPrinter(app.parts.db, printerId) : null;
    const bytes = await printRuler(stock, {
      ...{ createdAt: app.now(), calibration: calibrationOf(printer) },
    });
    const name = fileName(["ruler", stock.name], "pdf");
    return reply
      .type("application/pdf")
      .header("content-disposition", `attachment; filename="${name}"`)
      .send(Buffer.from(bytes));
  });

  await app.register(ownStockPages);
  await app.register(printerPages);
}

async function ownStockPages(app: App): Promise<void> {
  app.get<WithId>("/stocks/:id", helps, async (request, reply) => {
    const own = await ownStock(request);
    const values = { ...stockValues(own.shape as Stock), version: String(own.version) };
    return formPage(request, reply, { values, own });
  });

  app.post<WithId>("/stocks/:id", helps, async (request, reply) => {
    const own = await ownStock(request);
    const body = request.body as Fields;
    const read = readStock(body);
    const version = Number(/^\d{1,9}$/.exec(textOf(body, "version"))?.[0] ?? 0);
    const edited = read.ok
      ? await editLabelStock(request.deed(), own.id, { ...read.value, version })
      : read;
    if (!edited.ok) return formPage(request, reply, { values: body, problem: edited.problem, own });
    return reply.seeOther("/stocks", { kind: "good", text: "The change is kept." });
  });

  app.post<WithId>("/stocks/:id/retirement", helps, async (request, reply) => {
    const id = wantId(request.params.id, "this stock");
    orRefuse(await retireLabelStock(request.deed(), id));
    return reply.seeOther("/stocks", { kind: "good", text: "The stock is off the lists." });
  });
}

async function ownStock(request: Request): Promise<OwnStock> {
  const id = wantId((request.params as { id: string }).id, "this stock");
  const own = await findLabelStock(request.server.parts.db, id);
  if (!own) throw notFound("this stock");
  return own;
}

async function stockOfId(request: Request, id: string): Promise<Stock> {
  const own = isId(id) ? await findLabelStock(request.server.parts.db, id) : null;
  const stock = stockNamed(id, own?.shape ?? null);
  if (!stock) throw notFound("this stock");
  return stock;
}

const purposes = { tag: "Tags", "care-strip": "Care strips", both: "Tags and care strips" };

const rowOf = (id: string, stock: Stock) => ({
  ...{ id, words: stock.words, purpose: purposes[stock.purpose] },
  labels: stock.media.kind === "roll" ? "one after another" : `${labelsOn(stock)} on a sheet`,
});

async function stocksPage(request: Request) {
  const { db } = request.server.parts;
  const own = await listLabelStocks(db);
  return {
    title: "Label stocks and printers",
    shipped: stockNames.map((name) => rowOf(name, stocks[name])),
    own: own.map(({ id, shape }) => rowOf(id, shape as Stock)),
    printers: await listPrinters(db),
  };
}

function formPage(
  _request: Request,
  reply: Reply,
  { values, problem, own }: { values: object; problem?: Problem; own?: OwnStock },
) {
  const data = {
    title: own ? own.name : "Add a label stock",
    ...{ values, problem, own, action: own ? `/stocks/${own.id}` : "/stocks" },
  };
  return reply.page("stocks/stock", data, problem?.status ?? 200);
}
