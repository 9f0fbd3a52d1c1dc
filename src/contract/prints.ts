import * as z from "zod";

export const printWhats = ["tag", "care-strip"] as const;
export const printWhiches = ["new", "changed", "all"] as const;
export const printStates = ["waiting", "running", "ready", "cancelled", "failed"] as const;

export type PrintWhat = (typeof printWhats)[number];
export type PrintWhich = (typeof printWhiches)[number];

const place = z.int("Type a whole number").min(1, "The first label is number 1").max(400);

/** What to print, of whom, and how it goes onto paper. */
export const printShape = z.strictObject({
  what: z.enum(printWhats, "Choose tags or care strips").default("tag"),
  which: z.enum(printWhiches, "Choose which of them").default("new"),
  member: z.int("Give a member's number").min(1).max(9_999).optional(),
  item: z.uuid("Choose an item").optional(),
  /** The name of a shipped stock, or the id of one of the guild's own. */
  stock: z.string("Choose a label stock").trim().min(1, "Choose a label stock").max(40),
  /** The first label to use on the first sheet, counted from 1, and others that are used up. */
  start: place.default(1),
  skip: z.array(place).max(400).default([]),
  code: z.enum(["bars", "qr", "both"], "Choose bars, QR code or both").default("bars"),
  /** A tag for every alike piece, or one for the stack. */
  each: z.boolean("Say true or false").default(true),
  /** Lets what has no room go on to a second label. */
  second: z.boolean("Say true or false").default(false),
  printer: z.uuid("Choose a printer").nullable().default(null),
});

export type PrintInput = z.output<typeof printShape>;

export const shownPrintShape = z.object({
  id: z.uuid(),
  saleId: z.uuid(),
  what: z.enum(printWhats),
  state: z.enum(printStates),
  total: z.int(),
  done: z.int(),
  problem: z.string(),
  createdAt: z.string(),
  endedAt: z.string().nullable(),
  /** Whether the file is there to be fetched; it is kept for a day. */
  kept: z.boolean(),
});
