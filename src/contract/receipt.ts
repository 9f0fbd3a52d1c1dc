import { z } from "zod";
import { mostLines } from "../rules/receipt.ts";
import { largestReceipt, tenderKinds } from "../rules/tender.ts";
import { line, paymentLine } from "./text.ts";

const pieces = z
  .number("Type how many pieces")
  .int("Type a whole number of pieces")
  .min(1, "Type how many pieces, 1 or more")
  .max(999, "At most 999 pieces on one line");

const amount = z
  .number("Give an amount in smallest coins")
  .int("Give whole smallest coins")
  .min(1, "An amount is above zero")
  .max(largestReceipt, "This is more than a receipt can hold");

const tender = z.strictObject({
  kind: z.enum(tenderKinds, "Choose cash, cheque, card or other"),
  /** For cash what the buyer handed over; the change comes off it. */
  amount,
  reference: paymentLine(60).optional(),
});

/** A receipt as the till sends it. The till makes the id, so that sending again is harmless. */
export const receiptShape = z.strictObject({
  id: z.uuid("The receipt id is a UUID that the till made"),
  tillId: z.uuid("Give the till's id"),
  lines: z
    .array(z.strictObject({ tag: z.string().max(40, "A tag number is shorter"), quantity: pieces }))
    .min(1, "Add at least one piece")
    .max(mostLines, `Take at most ${mostLines} lines on one receipt`),
  tenders: z.array(tender).min(1, "Say how it was paid").max(20, "Take at most 20 ways of paying"),
  /** What the till showed, tax included: when we come to another sum, nothing is recorded. */
  total: amount,
});

export type ReceiptInput = z.infer<typeof receiptShape>;

const reason = line(200, "Say why, in a few words").pipe(paymentLine(200));

export const voidShape = z.strictObject({ reason });

export const returnShape = z.strictObject({
  /** The open till that gives the money back. */
  tillId: z.uuid("Choose the till that gives the money back"),
  lines: z
    .array(z.strictObject({ lineId: z.uuid("Give the id of a line"), quantity: pieces }))
    .min(1, "Choose at least one piece that comes back")
    .max(mostLines),
  tender: z.strictObject({
    kind: z.enum(tenderKinds, "Choose how the money goes back"),
    reference: paymentLine(60).optional(),
  }),
  reason,
});

export type ReturnInput = z.infer<typeof returnShape>;
