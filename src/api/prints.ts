import { createReadStream, existsSync } from "node:fs";
import { z } from "zod";
import { askPrint } from "../actions/ask-print.ts";
import { cancelPrint } from "../actions/cancel-print.ts";
import { type PrintInput, printShape, printWhats, shownPrintShape } from "../contract/prints.ts";
import { findLabelStock, findPrinter } from "../database/label-stocks.ts";
import { findPrintJob, type PrintJobRead } from "../database/print-jobs.ts";
import { printCounts } from "../database/tag-prints.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import { seenItem, tagsOf } from "../plugins/seen-items.ts";
import type { App, Reply, Request } from "../plugins/types.ts";
import { paperFor } from "../printing/paper.ts";
import { hasAny } from "../rules/roles.ts";
import { refusals, typed } from "./typed.ts";

const tags = ["tags"];
const mine = { access: "signed-in" as const };
const saleParams = z.object({ saleId: z.uuid() });
const printParams = z.object({ id: z.uuid() });
const isId = (text: string) => z.uuid().safeParse(text).success;

export async function printApi(app: App): Promise<void> {
  const route = typed(app);

  route.post("/sales/:saleId/prints", {
    config: mine,
    schema: {
      tags,
      summary: "Ask for tags or care strips: recorded, and by default only what is not printed yet",
      params: saleParams,
      body: printShape,
      response: { 201: shownPrintShape, ...refusals },
    },
    handler: async (request, reply) => {
      const asked = await ask(request as unknown as Request, request.params.saleId, request.body);
      app.printJobs.wake();
      return reply.code(201).send(asked);
    },
  });

  route.get("/sales/:saleId/prints/counts", {
    config: mine,
    schema: {
      tags,
      summary: "How many tags or care strips are new, changed since printed, and there at all",
      params: saleParams,
      querystring: z.object({
        what: z.enum(printWhats).default("tag"),
        member: z.coerce.number("Give a member's number").int().max(9_999).optional(),
      }),
      response: {
        200: z.object({ new: z.int(), changed: z.int(), all: z.int() }),
        ...refusals,
      },
    },
    handler: async (request) => {
      const memberId = await tagsOf(app.parts.db, request.who(), request.query.member);
      const choice = { saleId: request.params.saleId, memberId, each: true };
      return printCounts(app.parts.db, request.query.what, choice);
    },
  });

  route.get("/prints/:id", {
    config: mine,
    schema: {
      tags,
      summary: "How far a print has come",
      params: printParams,
      response: { 200: shownPrintShape, ...refusals },
    },
    handler: async (request) => {
      const seen = request as unknown as Request;
      return shown(seen, await ownPrint(seen, request.params.id));
    },
  });

  route.post("/prints/:id/cancellation", {
    config: mine,
    schema: {
      tags,
      summary: "Stop a print; its tags count as not printed",
      params: printParams,
      body: z.strictObject({}).optional(),
      response: { 201: shownPrintShape, ...refusals },
    },
    handler: async (request, reply) => {
      const seen = request as unknown as Request;
      orRefuse(await cancelPrint(request.deed(), { id: request.params.id }));
      return reply.code(201).send(shown(seen, await ownPrint(seen, request.params.id)));
    },
  });

  route.get("/prints/:id/file", {
    config: mine,
    schema: { tags, summary: "The file of a print, kept for a day", params: printParams },
    handler: async (request, reply) =>
      sendFile(request as unknown as Request, reply as unknown as Reply, request.params.id),
  });
}

async function ask(request: Request, saleId: string, given: PrintInput) {
  const { db } = request.server.parts;
  const actor = request.who();
  const own = isId(given.stock) ? await findLabelStock(db, given.stock) : null;
  const printer = given.printer ? await findPrinter(db, given.printer) : null;
  if (given.printer && !printer) throw notFound("this printer");
  const paper = orRefuse(paperFor(given, own?.shape ?? null, printer));
  const item = given.item ? await seenItem(db, actor, given.item) : undefined;
  const memberId = item ? item.memberId : await tagsOf(db, actor, given.member);
  const { what, which, stock } = given;
  const { id } = orRefuse(
    await askPrint(request.deed(), {
      ...{ saleId, memberId, itemId: item?.id, what, which, paper },
      stock: own?.name ?? stock,
      about: item?.shownTag ?? (given.member ? String(given.member) : ""),
    }),
  );
  return shown(request, await ownPrint(request, id));
}

/** A print of one's own; the desk and the chair see all of them. */
async function ownPrint(request: Request, id: string): Promise<PrintJobRead> {
  const job = await findPrintJob(request.server.parts.db, id);
  const seesAll = hasAny(request.who().roles, ["desk", "chair"]);
  if (!job || !(job.byId === request.who().id || seesAll)) throw notFound("this print");
  return job;
}

const shown = (request: Request, job: PrintJobRead) => ({
  id: job.id,
  saleId: job.saleId,
  what: job.what,
  state: job.state,
  total: job.total,
  done: job.done,
  problem: job.problem,
  createdAt: job.createdAt.toISOString(),
  endedAt: job.endedAt?.toISOString() ?? null,
  kept: job.state === "ready" && existsSync(request.server.printJobs.fileOf(job.id)),
});

async function sendFile(request: Request, reply: Reply, id: string) {
  const job = await ownPrint(request, id);
  const file = request.server.printJobs.fileOf(job.id);
  if (job.state !== "ready" || !existsSync(file))
    throw notFound("the file of this print. Files are kept for a day");
  return reply
    .type("application/pdf")
    .header("content-disposition", `attachment; filename="${job.what}s.pdf"`)
    .send(createReadStream(file));
}
