import * as z from "zod";
import { line, optionalLine } from "./text.ts";
import { versionNumber } from "./version.ts";

/** A button at the tills: what the guild sells for itself, or a gift to it. */
export const goodShape = z.strictObject({
  name: line(40, "Name it as the button should, such as Cloth bag"),
  kind: z.enum(["goods", "donation"], "Choose goods or a gift"),
  /** Null when the amount is typed each time. */
  price: z
    .int("Give the price in whole smallest coins")
    .min(1, "A price is above zero")
    .max(999_999_999, "This price is too large")
    .nullable()
    .default(null),
  /** What the tax rules take it for; a gift is never taxed. */
  taxKind: optionalLine(40).default(""),
});

export type GoodInput = z.output<typeof goodShape>;

export const goodChange = goodShape.extend({
  position: z.int("Give its place as a whole number").min(1).max(99),
  retired: z.boolean("Say true or false").default(false),
  version: versionNumber,
});

export type GoodChange = z.output<typeof goodChange>;

export const goodShown = goodShape.extend({
  id: z.uuid(),
  position: z.int(),
  retired: z.boolean(),
  version: z.int(),
});
