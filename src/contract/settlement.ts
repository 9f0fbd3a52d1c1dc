import * as z from "zod";
import { payoutMethods, statementItemKinds } from "../rules/statement.ts";
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

const moreFigures = { cardFee: coins, fees: coins, losses: coins, adjustments: coins };
const payMethod = z.enum(payoutMethods).nullable();

const statementItem = z.object({
  kind: z.enum(statementItemKinds),
  words: z.string(),
  count: z.number().int(),
  amount: coins,
});

const settledLine = z.object({
  soldAt: z.string(),
  tag: z.string(),
  description: z.string(),
  quantity: z.number().int(),
  amount: coins,
  rate: z.number().int(),
  guildShare: coins,
  cardFee: coins,
  net: coins,
  donated: z.boolean(),
});

/** One member's part of the next settlement, with the ground of each percentage. */
export const previewMemberShape = z.object({
  ...{ ...person, ...figures, ...moreFigures, carried: coins, due: coins, payMethod },
  payWhy: z.enum(["paid", "nothing-due", "below-minimum", "owed-by-member"]),
  donated: coins,
  lines: z.array(settledLine.extend({ grounds: z.array(z.string()) })),
  items: z.array(statementItem),
});

export const previewShape = z.object({
  fingerprint: z.string(),
  lines: z.number().int(),
  policyVersion: z.number().int(),
  ...figures,
  ...moreFigures,
  due: coins,
  donated: coins,
  items: z.array(previewMemberShape),
  next: z.string().nullable(),
});

/** "proposed" waits for a second person, whom the guild asks for above an amount. */
export const finalisedShape = z.discriminatedUnion("state", [
  z.object({
    state: z.literal("settled"),
    settlementId: z.uuid(),
    number: z.number().int(),
    statements: z.number().int(),
    ...figures,
    due: coins,
  }),
  z.object({ state: z.literal("proposed"), ...figures, due: coins }),
]);

export const statementRowShape = z.object({
  id: z.uuid(),
  number: z.number().int(),
  ...person,
  ...figures,
  due: coins,
  left: coins,
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
  ...{ ...figures, ...moreFigures, carried: coins, due: coins, payMethod },
  yearToDate: z.object({ year: z.number().int(), gross: coins, net: coins }).nullable(),
  notes: z.array(z.string()),
  lines: z.array(settledLine.extend({ ground: z.string() })),
  items: z.array(statementItem),
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
