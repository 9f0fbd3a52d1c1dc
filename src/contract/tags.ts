import * as z from "zod";

/** The shipped stocks for tags, by name: labels on sheets, cards cut by hand, and rolls. */
export const stockCodes = [
  "letter-30",
  "letter-10",
  "a4-21",
  "a4-24",
  "hang-tag",
  "roll-57",
  "roll-58",
  "roll-80",
] as const;

/** Which tags to print and on what; without a choice of whose, all that one may see. */
export const tagQuery = z.strictObject({
  member: z.coerce
    .number("Give a member's number")
    .int("Give a member's number")
    .max(9_999)
    .optional(),
  item: z.uuid("Choose an item").optional(),
  stock: z.enum(stockCodes, "Choose a sheet from the list").default("letter-10"),
  start: z.coerce.number("Type a number").int("Type a whole number").default(1),
  code: z.enum(["bars", "qr", "both"], "Choose bars, QR code or both").default("bars"),
  /** Lets what has no room go on to a second label. */
  second: z.enum(["yes", "no"], "Say yes or no").default("no"),
  each: z.enum(["yes", "no"], "Say yes or no").default("yes"),
});
