import * as z from "zod";

/** What one piece took to make; null for what nobody has noted. */
export const makingParts = {
  minutes: z
    .int("Give the time for one as whole minutes")
    .min(1, "Give at least a minute, or leave it out")
    .max(600_000, "That is more than ten thousand hours")
    .nullable()
    .default(null),
  materials: z
    .int("Give the materials of one as a whole number of smallest coins")
    .min(0, "An amount cannot be below zero")
    .max(10_000_000_000, "That is more than we can take")
    .nullable()
    .default(null),
};

export const makingShape = z.strictObject(makingParts);

export type MakingInput = z.output<typeof makingShape>;

export const makingShown = z.object({
  itemId: z.uuid(),
  minutes: z.int().nullable(),
  materials: z.int().nullable(),
});
