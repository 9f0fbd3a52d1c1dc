import { z } from "zod";
import { recordEntry } from "../actions/record-entry.ts";
import { otherTillsReceipt, outboxAnswer, outboxEntry } from "../contract/till-fact.ts";
import { receiptForTill } from "../database/receipt-for-till.ts";
import { notFound } from "../plugins/errors.ts";
import { clockAheadOf, tillOf } from "../plugins/till-device.ts";
import type { App, Request } from "../plugins/types.ts";
import { readReceiptNumber } from "../rules/receipt-number.ts";
import { refusals, typed } from "./typed.ts";

const tags = ["till device"];
const till = { access: "till" as const };
const security = [{ tillCookie: [] }];
const mostAtOnce = 20;

const sent = z.strictObject({ entries: z.array(outboxEntry).min(1).max(mostAtOnce) });

const answered = z.object({
  answers: z.array(outboxAnswer),
  /** Why the entry after the last answer was not taken; it and the later ones stay on the till. */
  problem: z.object({ code: z.string(), title: z.string(), detail: z.string() }).optional(),
});

/** What a till has kept, oldest first, and the receipts of other tills that it may take back. */
export async function tillOutboxApi(app: App): Promise<void> {
  const route = typed(app);

  route.post("/till/outbox", {
    config: { ...till, keyless: true },
    bodyLimit: 2_000_000,
    schema: {
      tags,
      security,
      summary: "Record what a till has sold, taken back or moved; each entry once, in order",
      body: sent,
      response: { 200: answered, ...refusals },
    },
    handler: async (request) => {
      const { tillId, saleId } = tillOf(request);
      const clockAhead = clockAheadOf(request as unknown as Request);
      const from = { db: app.parts.db, tillId, saleId, requestId: request.id, clockAhead };
      const answers: z.infer<typeof outboxAnswer>[] = [];
      for (const entry of request.body.entries) {
        const done = await recordEntry(from, entry);
        if (!done.ok) {
          const { code, title, detail } = done.problem;
          return { answers, problem: { code, title, detail } };
        }
        answers.push(done.value);
        if (entry.what === "receipt-mail") void app.receiptMails.wake();
      }
      return { answers };
    },
  });

  route.get("/till/receipts/:name", {
    config: till,
    schema: {
      tags,
      security,
      summary: "A receipt of any till of this sale, to take something of it back",
      params: z.object({ name: z.string().max(20) }),
      response: { 200: otherTillsReceipt, ...refusals },
    },
    handler: async (request) => {
      const named = readReceiptNumber(request.params.name);
      const found = named && (await receiptForTill(app.parts.db, tillOf(request).saleId, named));
      if (!found) throw notFound("this receipt");
      return found;
    },
  });
}
