import * as z from "zod";
import { mostLines } from "../rules/basket.ts";
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

const price = z
  .number("Give a price in smallest coins")
  .int("Give whole smallest coins")
  .min(1, "A price is above zero")
  .max(largestReceipt, "This is more than a receipt can hold");
const why = line(120, "Say why, in a few words").pipe(paymentLine(120));

/** A tagged piece at its own price, or at the one on a tag that is older than the list. */
const itemLine = z.strictObject({
  kind: z.literal("item"),
  tag: z.string().max(40, "A tag number is shorter"),
  quantity: pieces,
  printedPrice: z.strictObject({ price, reason: why }).optional(),
});

/** A piece whose tag is missing or cannot be read: its money waits until somebody knows whose. */
const untaggedLine = z.strictObject({
  kind: z.literal("untagged"),
  description: line(80, "Say what the piece is").pipe(paymentLine(80)),
  price,
  quantity: pieces,
  memberNumber: z.int("Give the member's number").min(1).max(9_999).optional(),
});

/** The guild's own goods, by the buttons that the chair has set; `price` where it has none. */
const goodsLine = z.strictObject({
  kind: z.literal("goods"),
  goodsId: z.uuid("Choose one of the guild's goods"),
  quantity: pieces,
  price: price.optional(),
});

/** A gift to the guild. */
const donationLine = z.strictObject({ kind: z.literal("donation"), amount: price });

/** A line that does not say what it is has a tag. */
const withKind = (line: unknown): unknown =>
  typeof line === "object" && line !== null && !("kind" in line) ? { kind: "item", ...line } : line;

/** The kind is looked at first, so that a fault is told at its field and not at the whole line. */
const anyLine = z.preprocess(
  withKind,
  z.discriminatedUnion("kind", [itemLine, untaggedLine, goodsLine, donationLine]),
);

/** A receipt as the till sends it. The till makes the id, so that sending again is harmless. */
export const receiptShape = z.strictObject({
  id: z.uuid("The receipt id is a UUID that the till made"),
  tillId: z.uuid("Give the till's id"),
  lines: z
    .array(anyLine)
    .min(1, "Add at least one piece")
    .max(mostLines, `Take at most ${mostLines} lines on one receipt`),
  /** The number of the buyer's certificate when no tax is to be taken. */
  exemption: paymentLine(60).default(""),
  tenders: z.array(tender).min(1, "Say how it was paid").max(20, "Take at most 20 ways of paying"),
  /** What the till showed, tax included: when we come to another sum, nothing is recorded. */
  total: amount,
});

export type ReceiptInput = z.output<typeof receiptShape>;
export type ReceiptInputLine = ReceiptInput["lines"][number];

const reason = line(200, "Say why, in a few words").pipe(paymentLine(200));

export const voidShape = z.strictObject({ reason });

export const returnShape = z.strictObject({
  /** The open till that gives the money back. */
  tillId: z.uuid("Choose the till that gives the money back"),
  lines: z
    .array(
      z.strictObject({
        lineId: z.uuid("Give the id of a line"),
        quantity: pieces,
        /** Where the piece goes: back among the goods, or home with its member. */
        goesTo: z.enum(["floor", "member"]).default("floor"),
      }),
    )
    .min(1, "Choose at least one piece that comes back")
    .max(mostLines),
  tender: z.strictObject({
    kind: z.enum(tenderKinds, "Choose how the money goes back"),
    reference: paymentLine(60).optional(),
  }),
  reason,
});

export type ReturnInput = z.output<typeof returnShape>;
