import * as z from "zod";
import { memberNumber } from "./shift.ts";
import { line } from "./text.ts";

/** A guild's adjustments are small; more than this is a slip of the decimal mark. */
const most = 100_000_000;
const tooMuch = "That is more than an adjustment can be. Check the decimal mark";

const reason = line(200, "Say why. The member reads it on the statement");

/** Money for a member (above zero) or from a member (below zero), in smallest coins. */
export const adjustmentShape = z.strictObject({
  member: memberNumber,
  amount: z
    .int("Give the amount in whole smallest coins")
    .min(-most, tooMuch)
    .max(most, tooMuch)
    .refine((amount) => amount !== 0, "Give an amount other than zero"),
  reason,
});

export type AdjustmentInput = z.output<typeof adjustmentShape>;

export const takeBackShape = z.strictObject({ reason });

export const adjustmentMade = z.object({ id: z.uuid(), amount: z.int() });

export const adjustmentShown = z.object({
  id: z.uuid(),
  memberNumber: z.int(),
  memberName: z.string(),
  amount: z.int(),
  reason: z.string(),
  by: z.string(),
  at: z.string(),
  /** The statement it stands on; null until the next settlement. */
  statementNumber: z.int().nullable(),
  takesBackId: z.uuid().nullable(),
  takenBack: z.boolean(),
});
