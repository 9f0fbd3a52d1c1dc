import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App } from "../../plugins/types.ts";
import { printCheques, printSignatures } from "../../printing/run-words.ts";
import { orderOf, type PreparedRun, standing } from "../../rules/paying/run.ts";
import { transferList } from "../../rules/paying/transfer-list.ts";
import { transferMessage } from "../../rules/paying/transfer-message.ts";
import type { PayoutMethod } from "../../rules/statement.ts";
import { books, type WithId } from "../books/scene.ts";
import { runNamed } from "./run-routes.ts";
import { sendPdf } from "./scene.ts";

/** The papers and files of a run. Each is written from frozen rows, so it is always the same. */
export async function runFilePages(app: App): Promise<void> {
  app.get<WithId>("/books/runs/:id/cheques.pdf", books, async (request, reply) => {
    const run = paidBy("cheque", await runNamed(request, request.params.id));
    return sendPdf(reply, `cheques-run-${run.number}.pdf`, await printCheques(run));
  });

  app.get<WithId>("/books/runs/:id/signatures.pdf", books, async (request, reply) => {
    const run = paidBy("cash", await runNamed(request, request.params.id));
    return sendPdf(reply, `cash-run-${run.number}.pdf`, await printSignatures(run));
  });

  app.get<WithId>("/books/runs/:id/transfers.csv", books, async (request, reply) => {
    const run = paidBy("transfer", await runNamed(request, request.params.id));
    return reply
      .type("text/csv; charset=utf-8")
      .header("content-disposition", `attachment; filename="transfers-run-${run.number}.csv"`)
      .send(transferList(orderOf(run)));
  });

  app.get<WithId>("/books/runs/:id/transfers.xml", books, async (request, reply) => {
    const run = paidBy("transfer", await runNamed(request, request.params.id));
    const message = orRefuse(transferMessage(orderOf(run)));
    return reply
      .type("application/xml; charset=utf-8")
      .header("content-disposition", `attachment; filename="transfers-run-${run.number}.xml"`)
      .send(message);
  });
}

/** A run has the files of its own way of paying, as long as something stands in it. */
function paidBy(method: PayoutMethod, run: PreparedRun): PreparedRun {
  if (run.method !== method || standing(run).length === 0) throw notFound("this file");
  return run;
}
