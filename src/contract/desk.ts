import * as z from "zod";
import { line, optionalLine } from "./text.ts";

/** Read by the rules for tags, which say more than a pattern could about what is wrong. */
export const tagShape = z.string("Scan a tag or type its number").max(60, "Scan one tag only");
const quantity = z.int("Type a whole number of pieces").min(1, "Type 1 or more").max(999);
export const reasonShape = optionalLine(200);

export const checkInShape = z.strictObject({
  tag: tagShape,
  decision: z.enum(["accepted", "turned-away"], "Say accepted or turned-away"),
  quantity: quantity.optional(),
  /** Needed for a piece whose cautions ask to hold it. */
  looked: z.boolean("Say true or false").default(false),
  reason: reasonShape.default(""),
});

export const pickUpShape = z.strictObject({
  tag: tagShape,
  quantity: quantity.optional(),
  reason: reasonShape.default(""),
});

/** As many as one page of a member's list holds. */
export const mostTicks = 300;

export const tagsShape = z.strictObject({
  tags: z
    .array(tagShape)
    .min(1, "Tick at least one piece")
    .max(mostTicks, `Tick at most ${mostTicks} at once`),
});

export const checkedInShape = z.object({
  itemId: z.uuid(),
  tag: z.string(),
  decision: z.enum(["accepted", "turned-away"]),
  quantity: z.int(),
});

export const pickedUpShape = z.object({
  itemId: z.uuid(),
  tag: z.string(),
  quantity: z.int(),
});

/** Pieces that are missing, found again, or left with the guild, with the reason for all of them. */
export const piecesShape = z.strictObject({
  pieces: z
    .array(z.strictObject({ tag: tagShape, quantity: quantity.optional() }))
    .min(1, "Tick at least one piece")
    .max(mostTicks, `Tick at most ${mostTicks} at once`),
  reason: line(200, "Say why, in a few words"),
});

export type PiecesInput = z.output<typeof piecesShape>;

/** What became of each: those that are done, and those that could not be. */
export const tallyShape = z.object({
  done: z.array(pickedUpShape),
  refused: z.array(z.object({ tag: z.string(), code: z.string(), detail: z.string() })),
});

const pieces = z.int();

export const leftPieceShape = z.object({
  tag: z.string(),
  description: z.string(),
  memberNumber: z.int(),
  memberName: z.string(),
  price: z.int(),
  onFloor: pieces,
  lost: pieces,
  withGuild: pieces,
});
