import { z } from "zod";
import { importUnsent } from "../actions/import-unsent.ts";
import { imported, largestUnsentFile, unsentFileShape } from "../contract/unsent-file.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

/** The file that a till saves when its way to the server stays shut. */
export async function unsentFileApi(app: App): Promise<void> {
  typed(app).post("/sales/:id/unsent", {
    // Every entry has an id of its own and is recorded once, so the call needs no key.
    config: { access: ["treasurer", "chair"], keyless: true },
    bodyLimit: largestUnsentFile,
    schema: {
      tags: ["till device"],
      summary: "Record what a till saved to a file; each entry once, in order",
      params: z.object({ id: z.uuid() }),
      body: unsentFileShape,
      response: { 200: imported, ...refusals },
    },
    handler: async (request) => {
      const given = { saleId: request.params.id, file: request.body };
      const done = orRefuse(await importUnsent(request.deed(), given));
      void app.receiptMails.wake();
      return done;
    },
  });
}
