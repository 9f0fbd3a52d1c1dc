import * as z from "zod";
import { depositSources } from "../rules/bank-entries.ts";
import { largestReceipt } from "../rules/tender.ts";
import { line, paymentLine } from "./text.ts";

const amount = z
  .number("Give an amount in smallest coins")
  .int("Give whole smallest coins")
  .min(0, "An amount cannot be below zero")
  .max(largestReceipt, "This is more than a sale can take");

const dayField = z.iso.date("Give the day, such as 2026-11-30");

export const depositShape = z.strictObject({
  source: z.enum(depositSources, "Choose what went to the bank"),
  amount: amount.min(1, "Type an amount above zero"),
  bankedOn: dayField,
  /** The number of the slip or of the bag. */
  reference: paymentLine(60).default(""),
});

export type DepositInput = z.output<typeof depositShape>;

export const cardTotalShape = z.strictObject({
  /** Left out for all tills together. */
  tillId: z.uuid("Choose a till, or all tills together").nullable().default(null),
  day: dayField,
  gross: amount,
  fee: amount,
  /** The number of the terminal's report. */
  reference: paymentLine(60).default(""),
});

export type CardTotalInput = z.output<typeof cardTotalShape>;

export const bankVoidShape = z.strictObject({ reason: line(200, "Say why it is void") });

const coins = z.number().int();
const day = z.string();

export const depositShown = z.object({
  id: z.uuid(),
  source: z.enum(depositSources),
  amount: coins,
  day,
  reference: z.string(),
  voidedBecause: z.string().nullable(),
});

export const cardTotalShown = z.object({
  id: z.uuid(),
  till: z.int().nullable(),
  day,
  gross: coins,
  fee: coins,
  reference: z.string(),
  voidedBecause: z.string().nullable(),
});

export const bankingShown = z.object({
  drawers: z.array(
    z.object({
      sessionId: z.uuid(),
      till: z.int(),
      at: z.string(),
      expected: coins,
      counted: coins,
      difference: coins,
    }),
  ),
  openTills: z.array(z.int()),
  inHand: z.array(
    z.object({
      source: z.string(),
      cameIn: coins,
      givenOut: coins,
      banked: coins,
      still: coins,
    }),
  ),
  cards: z.array(
    z.object({
      day,
      till: z.int().nullable(),
      recorded: coins,
      terminal: coins.nullable(),
      difference: coins.nullable(),
    }),
  ),
  card: z.object({ recorded: coins, terminal: coins, fees: coins, clearing: coins }),
});
