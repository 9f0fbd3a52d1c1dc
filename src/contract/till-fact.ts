import * as z from "zod";
import { mostLines } from "../rules/basket.ts";
import { largestReceipt, tenderKinds } from "../rules/tender.ts";
import { receiptMailFact } from "./receipt-mail.ts";
import { line, optionalLine, paymentLine } from "./text.ts";

/**
 * What a till with a device of its own sends: money has changed hands, so this is never refused
 * for what it says, only for what it cannot be. All figures are the till's own, in smallest coins;
 * the server works them out again and keeps any difference for the treasurer.
 */
const amount = z.int().min(-largestReceipt).max(largestReceipt);
const above = z.int().min(1).max(largestReceipt);
const pieces = z.int().min(-999).max(999);
/** By the till's own clock, which may be years off; PostgreSQL knows no year 0. */
const moment = z.iso.datetime().refine((text) => text >= "1970", "No clock shows this moment");

export const factLine = z.strictObject({
  id: z.uuid(),
  kind: z.enum(["item", "untagged", "goods", "donation"]),
  /** Digits of the tag, empty for what has none. */
  tag: z.string().regex(/^(\d{8}|\d{10})?$/),
  goodsId: z.uuid().nullable(),
  description: line(120, "Say what it is"),
  /** Whose an untagged piece may be, as the buyer or the cloth says. */
  memberNumber: z.int().min(1).max(9_999).nullable(),
  quantity: pieces,
  unitPrice: above,
  discount: amount,
  amount,
  tax: amount,
  taxInside: amount,
  taxKind: optionalLine(40),
  donated: z.boolean(),
  /** Filled when another price was taken than the list's. */
  priceReason: paymentLine(120),
  /** The line that this one takes back, when it is known. */
  reversesLineId: z.uuid().nullable(),
  /** Where a piece that comes back goes. */
  goesTo: z.enum(["floor", "member"]).nullable(),
});

export const factTax = z.strictObject({
  code: line(20, "Name the component"),
  name: line(40, "Name the component"),
  rate: z.int().min(0).max(100_000),
  base: amount,
  tax: amount,
});

export const factTender = z.strictObject({
  kind: z.enum([...tenderKinds, "exchange"]),
  /** What paid for the goods, change already taken off; below zero when money goes back. */
  amount,
  reference: paymentLine(60),
});

export const receiptFact = z
  .strictObject({
    id: z.uuid(),
    /** The till's next number: its series has no gaps, on line or off. */
    number: z.int().min(1).max(999_999),
    madeAt: moment,
    tillSessionId: z.uuid(),
    cashierId: z.uuid(),
    kind: z.enum(["sale", "return", "void"]),
    /** The sale that a return or void takes back, whether the server knows it yet or not. */
    reversesId: z.uuid().nullable(),
    /** The other half of an exchange. */
    exchangeId: z.uuid().nullable(),
    reason: paymentLine(200),
    exemption: paymentLine(60),
    lines: z.array(factLine).min(1).max(mostLines),
    taxes: z.array(factTax).max(10),
    tenders: z.array(factTender).max(20),
    subtotal: amount,
    tax: amount,
    total: amount,
    rounding: amount,
    cashGiven: amount,
    change: amount,
  })
  .refine(({ kind, reversesId }) => (kind === "sale") === (reversesId === null), {
    path: ["reversesId"],
    message: "A return or a void names its sale, and a sale names none",
  });

export type ReceiptFact = z.infer<typeof receiptFact>;
export type FactLine = z.infer<typeof factLine>;

const counts = z.array(z.strictObject({ value: above, count: z.int().min(0).max(99_999) })).max(30);

/** Cash that went to the safe, or in or out of the drawer, without a sale. */
export const cashMoveFact = z.strictObject({
  id: z.uuid(),
  madeAt: moment,
  tillSessionId: z.uuid(),
  cashierId: z.uuid(),
  kind: z.enum(["to-safe", "paid-in", "paid-out"]),
  amount: above,
  counts,
  reason: paymentLine(120),
});

export type CashMoveFact = z.infer<typeof cashMoveFact>;

/** One entry of a till's outbox: sent oldest first, kept until the server answers with its id. */
export const outboxEntry = z.discriminatedUnion("what", [
  z.strictObject({ what: z.literal("receipt"), body: receiptFact }),
  z.strictObject({ what: z.literal("cash-move"), body: cashMoveFact }),
  z.strictObject({ what: z.literal("receipt-mail"), body: receiptMailFact }),
]);

export type OutboxEntry = z.infer<typeof outboxEntry>;

/** The server's answer to one entry: it has it, whatever it thinks of it. */
export const outboxAnswer = z.object({
  id: z.uuid(),
  recorded: z.enum(["now", "before"]),
  /** What the treasurer will look at: "sold-twice", "figures-differ", "not-on-floor", … */
  notes: z.array(z.string()),
});

export type OutboxAnswer = z.infer<typeof outboxAnswer>;

/** A receipt of another till, as a till needs it to take something of it back. */
export const otherTillsReceipt = z.object({
  /** "2-0017" */
  name: z.string(),
  fact: receiptFact,
  /** How many pieces of each line have come back already, by the line's id. */
  returned: z.record(z.string(), z.int()),
});

export type OtherTillsReceipt = z.infer<typeof otherTillsReceipt>;
