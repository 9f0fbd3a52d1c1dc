import * as z from "zod";
import { line } from "./text.ts";

/** Whose a suspended line is: the member's by number, a piece's by its tag, or the guild's. */
export const ownerShape = z.strictObject({
  owner: z.enum(["member", "piece", "guild"], "Choose whose it is"),
  member: z.int("Give a member's number").min(1).max(9_999).optional(),
  tag: z.string("Scan the tag or type its number").max(40, "A tag number is shorter").optional(),
  reason: line(200, "Say how you know, in a few words"),
});

export type OwnerInput = z.output<typeof ownerShape>;

export const suspendedShown = z.object({
  id: z.uuid(),
  receiptId: z.uuid(),
  receipt: z.string(),
  at: z.string(),
  tag: z.string(),
  description: z.string(),
  quantity: z.int(),
  amount: z.int(),
  memberNumber: z.int().nullable(),
  notes: z.array(z.string()),
});

export const identifiedShown = z.object({ lineId: z.uuid(), amount: z.int() });
