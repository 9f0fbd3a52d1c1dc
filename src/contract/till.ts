import * as z from "zod";
import { mostOfOne } from "../rules/denominations.ts";
import { largestReceipt } from "../rules/tender.ts";
import { line, paymentLine } from "./text.ts";

const cash = z
  .number("Give an amount in smallest coins")
  .int("Give whole smallest coins")
  .min(0, "An amount cannot be below zero")
  .max(largestReceipt, "This is more than a drawer can hold");

/** How many of each note and coin; left out or empty when only the sum is known. */
const counts = z
  .array(
    z.strictObject({
      value: z.int("Give the note or coin in smallest coins").min(1).max(largestReceipt),
      count: z.int("Type how many").min(0, "Type how many").max(mostOfOne, "Type how many"),
    }),
  )
  .max(40, "There are not so many kinds of notes and coins")
  .optional();

export const openingShape = z.strictObject({ float: cash, counts });

export type OpeningInput = z.infer<typeof openingShape>;

export const cashMoveKinds = ["to-safe", "paid-in", "paid-out"] as const;

export type CashMoveKind = (typeof cashMoveKinds)[number];

export const cashMoveShape = z.strictObject({
  /** Made by whoever sends it, so that the same move is recorded once. */
  id: z.uuid("Give the move an id of its own"),
  kind: z.enum(cashMoveKinds, "Choose what happened with the cash"),
  amount: cash.min(1, "Type an amount above zero"),
  counts,
  /** Cash paid in or out says what for. */
  reason: paymentLine(120).default(""),
});

export type CashMoveInput = z.infer<typeof cashMoveShape>;

export const cashUpShape = z.strictObject({
  counted: cash,
  counts,
  /** Two people count; the first is the one who is signed in. */
  witness: line(80, "Give the name of the second person who counted"),
  note: paymentLine(300).default(""),
});

export type CashUpInput = z.infer<typeof cashUpShape>;
