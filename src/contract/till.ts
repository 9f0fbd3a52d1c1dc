import { z } from "zod";
import { largestReceipt } from "../rules/tender.ts";
import { line, paymentLine } from "./text.ts";

const cash = z
  .number("Give an amount in smallest coins")
  .int("Give whole smallest coins")
  .min(0, "An amount cannot be below zero")
  .max(largestReceipt, "This is more than a drawer can hold");

export const openingShape = z.strictObject({ float: cash });

export const cashUpShape = z.strictObject({
  counted: cash,
  /** Two people count; the first is the one who is signed in. */
  witness: line(80, "Give the name of the second person who counted"),
  note: paymentLine(300).default(""),
});

export type CashUpInput = z.infer<typeof cashUpShape>;
