import * as z from "zod";
import { payoutMethods } from "../rules/statement.ts";

/** One of the classes in the sale's policy, by its code, or none. */
const classCode = z.string().min(1, "Choose from the list").max(60, "Choose from the list");

/** Under which terms a member sells at one sale. Version 0: nothing was noted yet. */
export const sellerShape = z.strictObject({
  visitor: z.boolean("Say whether this is a visitor"),
  committee: z.boolean("Say whether this member is on the committee"),
  classCode: classCode.nullable(),
  payMethod: z.enum(payoutMethods, "Choose cheque, transfer or cash").nullable(),
  payAll: z.boolean("Say whether small sums are paid too"),
  version: z
    .int("Load the page again and repeat the change")
    .min(0, "Load the page again and repeat the change")
    .max(2_147_483_647),
});

export type SellerInput = z.output<typeof sellerShape>;

export const sellerChanges = ["committee", "visitor", "class", "pay-all"] as const;

/** The same single change for several members; whatever else was noted for them stays. */
export const manySellersShape = z.strictObject({
  memberIds: z
    .array(z.uuid("Choose members from the list"))
    .min(1, "Tick at least one member")
    .max(200, "Change at most 200 members at once"),
  change: z.enum(sellerChanges, "Choose what to change"),
  on: z.boolean().default(true),
  /** Only with the change "class"; `null` takes the class away. */
  classCode: classCode.nullable().default(null),
});

export type ManySellersInput = z.output<typeof manySellersShape>;

export const sellerShown = z.object({
  memberId: z.uuid(),
  memberNumber: z.int(),
  memberName: z.string(),
  visitor: z.boolean(),
  committee: z.boolean(),
  classCode: z.string().nullable(),
  payMethod: z.enum(payoutMethods).nullable(),
  payAll: z.boolean(),
  version: z.int(),
  minutesWorked: z.int(),
  /** What the guild keeps of ordinary goods, in thousandths of a percent, and why. */
  rate: z.int(),
  rateWords: z.string(),
});
