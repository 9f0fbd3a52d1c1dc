import * as z from "zod";
import { paymentLine } from "./text.ts";

/** Where a buyer wants a receipt; the same shape judges at the till and on the server. */
export const mailAddress = paymentLine(200).pipe(
  z.email("Write the address like name@example.org"),
);

/** The wish for a receipt by e-mail, as a till keeps it until the server has it. */
export const receiptMailFact = z.strictObject({
  id: z.uuid(),
  receiptId: z.uuid(),
  address: mailAddress,
  madeAt: z.iso.datetime(),
});

export type ReceiptMailFact = z.infer<typeof receiptMailFact>;

/** The same wish from a signed-in person; the id is made by the caller and is the key. */
export const receiptMailAsked = z.strictObject({ id: z.uuid(), address: mailAddress });

export const receiptMailShown = z.object({ id: z.uuid(), recorded: z.enum(["now", "before"]) });
