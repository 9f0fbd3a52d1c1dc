import * as z from "zod";
import { taxBases, taxModes } from "../rules/tax/tax-rules.ts";
import { line } from "./text.ts";

const day = z.iso.date("Give a day such as 2027-04-24");

const kindRule = z.strictObject({
  /** The code of a kind, or "*" for all. */
  kind: line(40, "Choose a kind, or all kinds"),
  mode: z.enum(taxModes, "Choose how this kind is taxed"),
  threshold: z.int("Give a price in whole smallest coins").min(1).max(999_999_999).optional(),
  from: day.optional(),
  to: day.optional(),
});

/** What a sale's tax is: the parts it has, how each treats the kinds, and where it is rounded. */
export const taxShape = z.strictObject({
  included: z.boolean("Say whether prices hold the tax"),
  basis: z.enum(taxBases, "Choose where tax is rounded"),
  together: z.boolean("Say whether the rates are added first"),
  components: z
    .array(
      z.strictObject({
        code: line(20, "Give this tax a short code").regex(
          /^[a-z0-9-]+$/,
          "Use small letters, digits and dashes",
        ),
        name: line(40, "Name the tax as receipts should show it"),
        rate: z.int("Give the rate in thousandths of a percent").min(0).max(100_000),
        rules: z.array(kindRule).max(60, "At most 60 rules"),
      }),
    )
    .max(8, "At most 8 taxes"),
});
