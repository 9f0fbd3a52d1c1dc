import { z } from "zod";
import { findRun } from "../database/paying-runs.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { printCheques, printSignatures } from "../printing/run-words.ts";
import { orderOf, type PreparedRun, standing } from "../rules/paying/run.ts";
import { transferList } from "../rules/paying/transfer-list.ts";
import { transferMessage } from "../rules/paying/transfer-message.ts";

interface FileKind {
  method: PreparedRun["method"];
  summary: string;
  type: string;
  write(run: PreparedRun): Promise<Buffer> | string;
}

const files: Record<string, FileKind> = {
  "cheques.pdf": {
    method: "cheque",
    summary: "The list of cheques to write, with amounts in words, as PDF",
    type: "application/pdf",
    write: async (run) => Buffer.from(await printCheques(run)),
  },
  "signatures.pdf": {
    method: "cash",
    summary: "The list on which cash is signed for, as PDF",
    type: "application/pdf",
    write: async (run) => Buffer.from(await printSignatures(run)),
  },
  "transfers.csv": {
    method: "transfer",
    summary: "The transfers as CSV for the bank",
    type: "text/csv; charset=utf-8",
    write: (run) => transferList(orderOf(run)),
  },
  "transfers.xml": {
    method: "transfer",
    summary:
      "The transfers as ISO 20022 message pain.001.001.09; names each account that needs mending",
    type: "application/xml; charset=utf-8",
    write: (run) => orRefuse(transferMessage(orderOf(run))),
  },
};

/** The papers and files of a run, the same however often they are asked for. */
export async function payingFileApi(app: App): Promise<void> {
  for (const [name, { method, summary, type, write }] of Object.entries(files))
    app.get<{ Params: { id: string } }>(`/paying-runs/:id/${name}`, {
      config: { access: ["treasurer", "chair"] },
      schema: { tags: ["paying"], summary, params: z.object({ id: z.uuid() }) },
      handler: async ({ params }, reply) => {
        const run = await findRun(app.parts.db, params.id);
        if (run?.method !== method || standing(run).length === 0) throw notFound("this file");
        return reply.type(type).send(await write(run));
      },
    });
}
