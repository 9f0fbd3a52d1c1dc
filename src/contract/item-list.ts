import * as z from "zod";
import { mostListRows } from "../rules/item-list/columns.ts";
import { enteredShape, newItemShape } from "./item.ts";

const { agreementVersion, memberNumber } = newItemShape.shape;

/** Longer than 300 full rows ever are. */
const text = z
  .string("Paste the list, or choose a file")
  .min(1, "Paste the list, or choose a file")
  .max(200_000, `This list is too long. One list can have ${mostListRows} rows`);

/** A list as text: comma, semicolon or tab between the columns, which the first line names. */
export const listTextShape = z.strictObject({ text, memberNumber });

export const enterListShape = z.strictObject({
  text,
  memberNumber,
  agreementVersion,
  /** Whether rows that look like entries that stand already are entered as well. */
  twins: z.enum(["leave", "enter"], "Say leave or enter").default("leave"),
  /** How many rows the preview was going to enter; another number by now is refused. */
  expected: z.int().min(1).max(mostListRows).optional(),
});

const faultShape = z.object({ field: z.string(), message: z.string() });

export const listLookShape = z.object({
  rows: z.array(
    z.object({
      /** As the spreadsheet numbers it. */
      row: z.int(),
      /** What stands in its cells, by column. */
      cells: z.record(z.string(), z.string()),
      faults: z.array(faultShape),
      /** It equals an entry that stands already in description, colours, size and price. */
      twin: z.boolean(),
    }),
  ),
  good: z.int(),
  faulty: z.int(),
  twins: z.int(),
  /** Headings that mean nothing here. */
  ignored: z.array(z.string()),
});

export const listEnteredShape = z.object({
  listId: z.uuid(),
  entered: z.array(enteredShape.extend({ row: z.int() })),
  leftOut: z.int(),
});

export const itemListShape = z.object({
  id: z.uuid(),
  saleId: z.uuid(),
  saleName: z.string(),
  source: z.enum(["spreadsheet", "unsold"]),
  enteredAt: z.string(),
  leftOut: z.int(),
  pieces: z.int(),
  /** Neither withdrawn nor taken in at the desk. */
  asEntered: z.int(),
  withdrawn: z.int(),
  /** Withdrawn together with the list, and so put back together with it. */
  takenBack: z.int(),
});

export const takenBackShape = z.object({
  tags: z.array(z.string()),
  /** Entries of the list that stay as they are: taken in at the desk, or withdrawn before. */
  kept: z.int(),
});

/** Pieces that came home from earlier sales, to be entered again. */
export const enterAgainShape = z.strictObject({
  items: z
    .array(
      z.strictObject({
        itemId: z.uuid("Choose a piece of the list"),
        /** In smallest coins; without one it keeps its old price. */
        price: z.int("Give the price as a whole number of smallest coins").optional(),
      }),
    )
    .min(1, "Tick at least one piece")
    .max(100, "Enter at most 100 pieces at once"),
  agreementVersion,
});

export const againShape = z.object({
  listId: z.uuid(),
  entered: z.array(enteredShape.extend({ earlierId: z.uuid() })),
});

export const unsoldShape = z.object({
  id: z.uuid(),
  tag: z.string(),
  shownTag: z.string(),
  saleId: z.uuid(),
  saleName: z.string(),
  kindName: z.string(),
  description: z.string(),
  size: z.string(),
  colours: z.string(),
  price: z.int(),
  /** How many of it are at home. */
  atHome: z.int(),
  piecesInSet: z.int(),
  /** The entry of this sale as which it is brought again. */
  again: z.object({ id: z.uuid(), tag: z.string(), shownTag: z.string() }).nullable(),
});
