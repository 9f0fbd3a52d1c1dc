import * as z from "zod";
import { payoutAnswerShape } from "./payout.ts";

export const finaliseShape = z.strictObject({
  fingerprint: z
    .string()
    .regex(/^[0-9a-f]{64}$/, "Look at the preview first and send its fingerprint back"),
});

const coins = z.number().int();
const figures = { gross: coins, guildShare: coins, net: coins };
const person = {
  memberId: z.uuid(),
  memberNumber: z.number().int(),
  memberName: z.string(),
};

const settledLine = z.object({
  soldAt: z.string(),
  tag: z.string(),
  description: z.string(),
  quantity: z.number().int(),
  amount: coins,
  rate: z.number().int(),
  guildShare: coins,
  net: coins,
  donated: z.boolean(),
});

export const previewShape = z.object({
  fingerprint: z.string(),
  lines: z.number().int(),
  ...figures,
  donated: coins,
  items: z.array(z.object({ ...person, ...figures, donated: coins, lines: z.array(settledLine) })),
  next: z.string().nullable(),
});

export const finalisedShape = z.object({
  settlementId: z.uuid(),
  number: z.number().int(),
  statements: z.number().int(),
  ...figures,
});

export const statementRowShape = z.object({
  id: z.uuid(),
  number: z.number().int(),
  ...person,
  ...figures,
  paid: z.boolean(),
});

export const settlementShape = z.object({
  id: z.uuid(),
  saleId: z.uuid(),
  number: z.number().int(),
  ...figures,
  at: z.string(),
  items: z.array(statementRowShape),
  next: z.string().nullable(),
});

export const statementShape = z.object({
  id: z.uuid(),
  number: z.number().int(),
  settlementId: z.uuid(),
  saleId: z.uuid(),
  settledAt: z.string(),
  memberNumber: z.number().int(),
  memberName: z.string(),
  ...figures,
  lines: z.array(settledLine),
  unsold: z.array(
    z.object({
      tag: z.string(),
      description: z.string(),
      quantity: z.number().int(),
      price: coins,
    }),
  ),
  payouts: z.array(payoutAnswerShape),
});
