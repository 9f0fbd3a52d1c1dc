import * as z from "zod";
import { fibreShape, fibresShape } from "./label.ts";
import { makingParts } from "./making.ts";
import { line, optionalLine } from "./text.ts";
import { versionNumber } from "./version.ts";

/** More than any weaver sells at once, and small enough that every product stays exact. */
const most = 10_000_000_000;
const coins = (wanted: string) =>
  z.int(wanted).min(0, "An amount cannot be below zero").max(most, "That is more than we can take");

/** A sale elsewhere. `price` is for one; what the outlet kept is a percentage or an amount. */
export const elsewhereShape = z
  .strictObject({
    day: z.iso.date("Give the day of the sale, such as 2026-11-27"),
    outlet: line(60, "Say where, such as Corner shop"),
    kind: z
      .string("Choose what kind of piece it is")
      .trim()
      .min(1, "Choose what kind of piece it is")
      .max(40),
    description: line(60, "Say in a few words what it was"),
    colours: optionalLine(60).default(""),
    /** Empty when nobody says. */
    fibres: fibresShape.default([]),
    quantity: z
      .int("Type a whole number of pieces")
      .min(1, "Give at least one piece")
      .max(999, "Give at most 999 pieces at once"),
    price: coins("Give the price of one as a whole number of smallest coins"),
    keptRate: z
      .int("Give the percentage in whole thousandths")
      .min(0, "A percentage lies between 0 and 100")
      .max(100_000, "A percentage lies between 0 and 100")
      .nullable()
      .default(null),
    keptAmount: coins("Give the amount as a whole number of smallest coins")
      .nullable()
      .default(null),
    ...makingParts,
    /** The member's own entry that it was, if it was one. */
    itemId: z.uuid("Choose one of your own pieces").nullable().default(null),
  })
  .refine(({ keptRate, keptAmount }) => keptRate === null || keptAmount === null, {
    path: ["keptAmount"],
    message: "Give what was kept as a percentage or as an amount, not both",
  })
  .refine(({ keptAmount, price, quantity }) => (keptAmount ?? 0) <= price * quantity, {
    path: ["keptAmount"],
    message: "The outlet cannot have kept more than the pieces sold for",
  });

export type ElsewhereInput = z.output<typeof elsewhereShape>;

/** The same from the version that was read. Refusals of the whole come as for a new one. */
export const elsewhereChange = elsewhereShape.safeExtend({ version: versionNumber });

export type ElsewhereChange = z.output<typeof elsewhereChange>;

export const elsewhereShown = z.object({
  id: z.uuid(),
  day: z.string(),
  outlet: z.string(),
  itemId: z.uuid().nullable(),
  kind: z.string(),
  kindName: z.string(),
  description: z.string(),
  colours: z.string(),
  fibres: z.array(z.object(fibreShape.shape)),
  quantity: z.int(),
  price: z.int(),
  keptRate: z.int().nullable(),
  keptAmount: z.int().nullable(),
  kept: z.int(),
  left: z.int(),
  minutes: z.int().nullable(),
  materials: z.int().nullable(),
  takenBack: z.boolean(),
  version: z.int(),
});
