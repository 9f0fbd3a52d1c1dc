import * as z from "zod";
import { payoutMethods } from "../rules/statement.ts";
import { line, optionalLine } from "./text.ts";

export const payoutShape = z.strictObject({
  method: z.enum(payoutMethods, "Choose cheque, transfer or cash"),
  reference: optionalLine(60).default(""),
  paidOn: z.iso.date("Give the day of the payment, such as 2026-12-01"),
});

export const payoutVoidShape = z.strictObject({
  reason: line(200, "Say why the payout is void"),
});

const coins = z.number().int();

export const paidOutShape = z.object({
  payoutId: z.uuid(),
  statementId: z.uuid(),
  attempt: z.number().int(),
  amount: coins,
});

export const payoutAnswerShape = z.object({
  id: z.uuid(),
  attempt: z.number().int(),
  method: z.enum(payoutMethods),
  reference: z.string(),
  amount: coins,
  paidOn: z.string(),
  voidedBecause: z.string().nullable(),
});
