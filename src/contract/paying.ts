import * as z from "zod";
import { payoutMethods } from "../rules/statement.ts";
import { line, optionalLine } from "./text.ts";
import { versionNumber } from "./version.ts";

const accountLine = optionalLine(40);
const bankCode = optionalLine(20).transform((text) => text.toUpperCase());

/** Version 0 is the state before anything was typed. */
const stateNumber = z.union([z.literal(0), versionNumber]);

export const memberBankShape = z.strictObject({
  version: stateNumber,
  payee: optionalLine(70),
  account: accountLine,
  bank: bankCode,
  payMethod: z.enum(payoutMethods, "Choose cheque, transfer or cash").nullable(),
});

export type MemberBankInput = z.output<typeof memberBankShape>;

export const memberBankShown = z.object({
  memberId: z.uuid(),
  version: z.number().int(),
  payee: z.string(),
  account: z.string(),
  bank: z.string(),
  payMethod: z.enum(payoutMethods).nullable(),
});

const days = z
  .int("Give a number of days")
  .min(1, "Give at least 1 day")
  .max(3_650, "Give at most 3650 days");

export const payingSettingsShape = z.strictObject({
  version: versionNumber,
  name: optionalLine(70),
  account: accountLine,
  bank: bankCode,
  /** Days until a member is reminded of money that waits, and from one reminder to the next. */
  remindFirst: days,
  remindAgain: days,
});

export type PayingSettingsInput = z.output<typeof payingSettingsShape>;

export const payingSettingsShown = z.object({
  version: z.number().int(),
  name: z.string(),
  account: z.string(),
  bank: z.string(),
  remindFirst: z.number().int(),
  remindAgain: z.number().int(),
});

/** More at once would be a long wait and a long list to check by eye. */
export const mostInRun = 300;

export const prepareRunShape = z.strictObject({
  method: z.enum(payoutMethods, "Choose cheque, transfer or cash"),
  saleId: z.uuid().nullable().default(null),
  statementIds: z
    .array(z.uuid(), "Tick whom to pay")
    .min(1, "Tick at least one member to pay")
    .max(mostInRun, `Tick at most ${mostInRun} members for one run`)
    .refine((ids) => new Set(ids).size === ids.length, "Tick each member once"),
  day: z.iso.date("Give the day of the payment, such as 2026-12-01"),
  firstCheque: optionalLine(12).default(""),
});

export type PrepareRunInput = z.output<typeof prepareRunShape>;

/** Places of a run's list; null stands for all that still wait. */
const positions = z
  .array(z.int().min(1).max(mostInRun))
  .min(1, "Tick at least one payment")
  .max(mostInRun)
  .nullable()
  .default(null);

export const payRunShape = z.strictObject({
  positions,
  paidOn: z.iso.date("Give the day of the payment, such as 2026-12-01"),
});

export type PayRunInput = z.output<typeof payRunShape>;

export const dropItemsShape = z.strictObject({
  positions,
  reason: line(200, "Say why it is not paid"),
});

export type DropItemsInput = z.output<typeof dropItemsShape>;

const coins = z.number().int();

export const endedShape = z.object({
  runId: z.uuid(),
  payments: z.number().int(),
  total: coins,
});

export const preparedShape = endedShape.extend({ number: z.number().int() });

const runHead = {
  id: z.uuid(),
  number: z.number().int(),
  method: z.enum(payoutMethods),
  saleId: z.uuid().nullable(),
  day: z.string(),
  at: z.string(),
  byName: z.string(),
};

export const runRowShape = z.object({
  ...runHead,
  payments: z.number().int(),
  waiting: z.number().int(),
  total: coins,
});

export const runShape = z.object({
  ...runHead,
  currency: z.string(),
  items: z.array(
    z.object({
      position: z.number().int(),
      statementId: z.uuid(),
      statementNumber: z.number().int(),
      memberId: z.uuid(),
      memberNumber: z.number().int(),
      payee: z.string(),
      /** "ends in 6789": the whole number stands in the files alone. */
      account: z.string(),
      amount: coins,
      reference: z.string(),
      outcome: z.enum(["paid", "dropped"]).nullable(),
      reason: z.string(),
      payoutId: z.uuid().nullable(),
      voided: z.boolean(),
    }),
  ),
});

export const toPrepareShape = z.object({
  statementId: z.uuid(),
  statementNumber: z.number().int(),
  memberId: z.uuid(),
  memberNumber: z.number().int(),
  payee: z.string(),
  saleName: z.string(),
  amount: coins,
  method: z.enum(payoutMethods),
  hasAccount: z.boolean(),
});

export const unclaimedShape = z.object({
  statementId: z.uuid(),
  statementNumber: z.number().int(),
  memberId: z.uuid(),
  memberNumber: z.number().int(),
  memberName: z.string(),
  saleName: z.string(),
  amount: coins,
  owedSince: z.string(),
  days: z.number().int(),
  runNumber: z.number().int().nullable(),
  reminded: z.array(z.string()),
  reminderDue: z.number().int().nullable(),
});

export const remindedShape = z.object({ statementId: z.uuid(), number: z.number().int() });
