import { z } from "zod";
import { mailReceipt } from "../actions/record-mail.ts";
import { receiptMailAsked, receiptMailShown } from "../contract/receipt-mail.ts";
import { orRefuse, RefusedRequest } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { problem } from "../rules/problem.ts";
import { refusals, typed } from "./typed.ts";

/** A receipt by e-mail, when a buyer asks for it after the till. */
export async function receiptMailApi(app: App): Promise<void> {
  typed(app).post("/receipts/:id/mails", {
    config: { access: ["cashier", "chair"], keyless: true },
    schema: {
      tags: ["till"],
      summary: "Send a receipt to a buyer's address, which is deleted as soon as it is out",
      description:
        "The id is made by the caller and is the key: sent again, the same id sends nothing more.",
      params: z.object({ id: z.uuid() }),
      body: receiptMailAsked,
      response: { 200: receiptMailShown, 202: receiptMailShown, ...refusals },
    },
    handler: async (request, reply) => {
      if (!app.parts.settings.mail) throw new RefusedRequest(noMail());
      const wish = { ...request.body, receiptId: request.params.id };
      const noted = orRefuse(await mailReceipt(request.deed(), wish));
      void app.receiptMails.wake();
      return reply.code(noted.recorded === "now" ? 202 : 200).send(noted);
    },
  });
}

const noMail = () =>
  problem("no-mail", "Nothing was sent and the address was not kept. Print the receipt instead.");
