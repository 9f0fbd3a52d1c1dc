import * as z from "zod";
import { cashSteps } from "../rules/cash-rounding.ts";
import { wholeRate } from "../rules/money.ts";
import { stages } from "../rules/sale-stage.ts";
import { noTax } from "../rules/tax/tax-rules.ts";
import { taxShape } from "./tax.ts";
import { line, lines, optionalLine, optionalLines } from "./text.ts";
import { versionNumber } from "./version.ts";

/** A year typed wrong would stand in every list, and the database knows no year 0. */
const isOurTime = (text: string): boolean => /^2[01]/.test(text);
const day = (wanted: string) => z.iso.date(wanted).refine(isOurTime, "Check the year");
const rate = z
  .int("Give the rate in thousandths of a percent")
  .min(0, "A percentage lies between 0 and 100")
  .max(wholeRate, "A percentage lies between 0 and 100");
const coins = z
  .int("Give the amount in whole smallest coins")
  .min(1, "Give an amount above zero")
  .max(999_999_999, "This amount is too large");
const limit = z
  .int("Give a whole number")
  .min(1, "The smallest limit is 1; leave it empty for none")
  .max(9_999, "The largest limit is 9999; leave it empty for none");

export const kindLimitShape = z.strictObject({
  kindId: z.uuid("Choose a kind from the list"),
  most: z.int("Give a whole number").min(0, "The smallest limit is 0").max(9_999),
});

const moment = z.iso
  .datetime({ offset: true, error: "Give the day and time" })
  .refine(isOurTime, "Check the year");

const saleFields = {
  name: line(60, "Give the sale a name, such as Spring sale 2027"),
  place: optionalLine(120),
  firstDay: day("Give the first day of the sale"),
  lastDay: day("Give the last day of the sale"),
  entryDeadline: z.iso
    .datetime({ offset: true, error: "Give the day and time entries end" })
    .refine(isOurTime, "Check the year"),
  tax: taxShape,
  /** Cash is rounded to so many smallest coins; 1 is exact. */
  cashStep: z.union(
    cashSteps.map((step) => z.literal(step)),
    "Choose the smallest coin in use",
  ),
  cashFives: z.enum(["up", "down"], "Choose which way a five goes"),
  /** Taken off what its member allowed, from the moment on; null for never. */
  markdownRate: rate.max(90_000, "At most 90 %"),
  markdownFrom: moment.nullable(),
  priceStep: coins,
  priceFloor: coins,
  itemLimit: limit.nullable(),
  kindLimits: z
    .array(kindLimitShape)
    .max(200)
    .refine(
      (limits) => new Set(limits.map(({ kindId }) => kindId)).size === limits.length,
      "Name each kind once",
    ),
  receiptFooter: optionalLines(300),
};

export const agreementText = lines(8_000, "Write what members agree to");

export const saleShape = z.strictObject({
  ...saleFields,
  /** The ordinary percentage of the first policy; later the policy is changed, not the sale. */
  guildRate: rate,
  place: saleFields.place.default(""),
  tax: taxShape.default(noTax),
  cashStep: saleFields.cashStep.default(1),
  cashFives: saleFields.cashFives.default("up"),
  markdownRate: saleFields.markdownRate.default(0),
  markdownFrom: saleFields.markdownFrom.default(null),
  priceStep: coins.default(1),
  priceFloor: coins.default(1),
  itemLimit: saleFields.itemLimit.default(null),
  kindLimits: saleFields.kindLimits.default([]),
  receiptFooter: saleFields.receiptFooter.default(""),
  agreement: agreementText,
});

export type SaleInput = z.output<typeof saleShape>;

export const saleChange = z
  .strictObject({ ...saleFields })
  .partial()
  .extend({ version: versionNumber });

export type SaleChange = z.output<typeof saleChange>;

export const saleShown = z.object({
  id: z.uuid(),
  name: z.string(),
  place: z.string(),
  firstDay: z.string(),
  lastDay: z.string(),
  entryDeadline: z.string(),
  guildRate: z.number().int(),
  tax: taxShape,
  cashStep: z.number().int(),
  cashFives: z.enum(["up", "down"]),
  markdownRate: z.number().int(),
  markdownFrom: z.string().nullable(),
  priceStep: z.number().int(),
  priceFloor: z.number().int(),
  itemLimit: z.number().int().nullable(),
  kindLimits: z.array(z.object({ kindId: z.uuid(), most: z.number().int() })),
  receiptFooter: z.string(),
  agreementVersion: z.number().int(),
  stage: z.enum(stages),
  version: z.number().int(),
});

export type SaleShown = z.output<typeof saleShown>;

export const moveShape = z.strictObject({
  to: z.enum(stages, "Choose a stage of the sale"),
  reason: optionalLine(200).default(""),
  version: versionNumber,
});

export type MoveInput = z.output<typeof moveShape>;

export const tillShape = z.strictObject({ name: line(40, "Name the till, such as Front door") });

export const tillShown = z.object({
  id: z.uuid(),
  number: z.number().int(),
  name: z.string(),
  open: z.boolean(),
});

export type TillShown = z.output<typeof tillShown>;

/** A new wording names the version it replaces, so that two people cannot overwrite each other. */
export const agreementShape = z.strictObject({ text: agreementText, replaces: versionNumber });

export const agreementShown = z.object({
  version: z.number().int(),
  text: z.string(),
  createdAt: z.string(),
  /** When the person who asks accepted this version. */
  acceptedAt: z.string().nullable(),
  /** How many members accepted this version. */
  accepted: z.number().int(),
});

export type AgreementShown = z.output<typeof agreementShown>;

export const acceptanceShape = z.strictObject({ version: versionNumber });
