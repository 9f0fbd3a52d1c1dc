import multipart from "@fastify/multipart";
import { importUnsent } from "../../actions/import-unsent.ts";
import { type Imported, largestUnsentFile, unsentFileShape } from "../../contract/unsent-file.ts";
import type { SaleRead } from "../../database/sales.ts";
import type { App, Request } from "../../plugins/types.ts";
import { type Problem, type Result, refuseField } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { saleOf, type WithId } from "./sale-of.ts";

const both = { config: { access: ["treasurer", "chair"] as const } };
const limits = { fileSize: largestUnsentFile, files: 1, fields: 4, fieldSize: 2_000, parts: 5 };

/** Brings in what a till saved to a file because its way to the server stayed shut. */
export async function unsentPages(app: App): Promise<void> {
  await app.register(multipart, { attachFieldsToBody: "keyValues", limits });

  app.get<WithId>("/sales/:id/unsent", both, async (request, reply) =>
    reply.page("sales/unsent", page(await saleOf(request, request.params.id))),
  );

  app.post<WithId>("/sales/:id/unsent", both, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const done = await bring(request, sale);
    if (!done.ok) return reply.page("sales/unsent", page(sale, done.problem), done.problem.status);
    void app.receiptMails.wake();
    // Shown at once: the page may be loaded again, since nothing is recorded twice.
    const brought = { waits: done.value.waiting > 0, words: broughtWords(done.value) };
    return reply.page("sales/unsent", { ...page(sale), brought });
  });
}

async function bring(request: Request, { id: saleId }: SaleRead): Promise<Result<Imported>> {
  const { file } = (request.body ?? {}) as { file?: unknown };
  if (!(file instanceof Uint8Array) || file.length === 0)
    return refuseField("file", "Choose the file that the till saved.");
  const read = readForm(unsentFileShape, jsonOf(file));
  if (!read.ok)
    return refuseField(
      "file",
      "This is not a file that a till saved, or it was cut off on its way.",
    );
  return importUnsent(request.deed(), { saleId, file: read.value });
}

function jsonOf(file: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(file));
  } catch {
    return undefined;
  }
}

function broughtWords({ tillNumber, recorded, before, notes, waiting, why }: Imported) {
  const here = before === 0 ? "" : ` ${before} ${before === 1 ? "was" : "were"} here already.`;
  const look = notes === 0 ? "" : " Some need a look: see the sale's books.";
  const rest =
    waiting === 0 ? "" : ` ${waiting} could not be taken yet. ${why} Then bring the file again.`;
  if (recorded + waiting === 0)
    return `Till ${tillNumber}: everything in the file was here already.`;
  return `Till ${tillNumber}: ${recorded} ${recorded === 1 ? "entry is" : "entries are"} recorded.${here}${look}${rest}`;
}

const page = (sale: SaleRead, problem?: Problem) => ({
  title: "Bring in a till's file",
  sale,
  problem,
});
