import * as z from "zod";
import { versionNumber } from "./version.ts";

/** From what amount on a member's year is to be reported; null when nothing is. */
export const reportThresholdShape = z.strictObject({
  amount: z
    .int("Give whole smallest coins")
    .min(1, "Type an amount above zero, or leave it empty")
    .max(999_999_999, "This is more than anybody sells")
    .nullable(),
  counts: z.enum(["sold", "paid"], "Choose what is measured"),
  from: z.enum(["at", "over"], "Choose whether the amount itself is reported"),
});

export const reportThresholdChange = reportThresholdShape.extend({ version: versionNumber });

export type ReportThresholdChange = z.output<typeof reportThresholdChange>;
