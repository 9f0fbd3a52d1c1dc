import { createReadStream, existsSync } from "node:fs";
import { cancelPrint } from "../../actions/cancel-print.ts";
import { findPrintJob, type PrintJobRead } from "../../database/print-jobs.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { fileName } from "../../rules/file-name.ts";
import { wantId } from "../want-id.ts";
import { isHelper } from "./scope.ts";
import { stateOf } from "./states.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };

/** One print: how far it has come, its file, and a way to stop it. It is safe to leave the page. */
export async function printPages(app: App): Promise<void> {
  app.get<WithId>("/tags/prints/:id", mine, async (request, reply) =>
    printPage(request, reply, await ownPrint(request)),
  );

  app.get<WithId>("/tags/prints/:id/file", mine, async (request, reply) => {
    const job = await ownPrint(request);
    const file = app.printJobs.fileOf(job.id);
    if (job.state !== "ready" || !existsSync(file))
      throw notFound("the file of this print. Files are kept for a day");
    const sale = await app.parts.db.sale.findUniqueOrThrow({ where: { id: job.saleId } });
    const what = job.what === "tag" ? "tags" : "care-strips";
    const name = fileName([what, sale.name, job.about], "pdf");
    return reply
      .type("application/pdf")
      .header("content-disposition", `attachment; filename="${name}"`)
      .send(createReadStream(file));
  });

  app.post<WithId>("/tags/prints/:id/cancellation", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this print");
    orRefuse(await cancelPrint(request.deed(), { id }));
    return reply.seeOther(`/tags/prints/${id}`, {
      kind: "good",
      text: "Stopped. Its tags count as they did before.",
    });
  });
}

/** A print of one's own; the desk and the chair see all of them. */
async function ownPrint(request: Request): Promise<PrintJobRead> {
  const id = wantId((request.params as { id: string }).id, "this print");
  const job = await findPrintJob(request.server.parts.db, id);
  if (!job || !(job.byId === request.who().id || isHelper(request))) throw notFound("this print");
  return job;
}

async function printPage(request: Request, reply: Reply, job: PrintJobRead) {
  const things = job.what === "tag" ? "tag" : "care strip";
  const open = job.state === "waiting" || job.state === "running";
  // A page that loads itself again needs no script; it stops as soon as there is news.
  if (open) reply.header("refresh", "2");
  const sale = await request.server.parts.db.sale.findUniqueOrThrow({ where: { id: job.saleId } });
  const kept = job.state === "ready" && existsSync(request.server.printJobs.fileOf(job.id));
  return reply.page("tags/print", {
    title: `Print: ${stateOf(job.state).text}`,
    ...{ job, open, kept, saleName: sale.name, badge: stateOf(job.state) },
    words: job.total === 1 ? `1 ${things}` : `${job.total} ${things}s`,
    gone: job.state === "ready" && !kept,
    hereHref: `/tags/prints/${job.id}`,
    tagsHref: `/tags?sale=${job.saleId}&what=${job.what}`,
  });
}
