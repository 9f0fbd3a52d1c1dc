import * as z from "zod";
import { line } from "./text.ts";
import { versionNumber } from "./version.ts";

/** A length on paper in millimetres; what fits where is left to the printing room's own check. */
const length = z
  .number("Give a length in millimetres")
  .min(0, "Give 0 or more millimetres")
  .max(500, "Give at most 500 mm");
const count = z
  .int("Say how many labels, as a whole number")
  .min(1, "There is at least 1 label")
  .max(400, "There are at most 400 labels");

const sheetShape = z.strictObject({
  kind: z.literal("sheet"),
  paper: z.strictObject({ width: length, height: length }),
  margin: z.strictObject({ left: length, top: length }),
  columns: count,
  rows: count,
  pitch: z.strictObject({ across: length, down: length }),
});

const rollShape = z.strictObject({
  kind: z.literal("roll"),
  width: length,
  printable: length,
  length: z.union([length, z.literal("continuous")], "Give a length, or continuous"),
});

/** Label stock as data: what it is printed on, and how large each label is. */
export const labelStockShape = z.strictObject({
  name: line(40, "Give this stock a short name"),
  words: line(80, "Describe this stock in a few words"),
  purpose: z.enum(["tag", "care-strip", "both"], "Choose what it is for"),
  media: z.discriminatedUnion("kind", [sheetShape, rollShape], "Choose sheet or roll"),
  label: z.strictObject({ width: length, height: length }),
  corner: length.default(0),
  hole: z.strictObject({ x: length, y: length, diameter: length }).optional(),
  /** Fine marks that show where to cut and punch. */
  guides: z.boolean("Say true or false").optional(),
});

export type LabelStockInput = z.output<typeof labelStockShape>;

export const labelStockChange = labelStockShape.extend({ version: versionNumber });

const nudge = z
  .int("Give whole thousandths of a millimetre")
  .min(-15_000, "Move the print by at most 15 mm either way")
  .max(15_000, "Move the print by at most 15 mm either way");
const scale = z
  .int("Give a whole number of thousandths")
  .min(950, "Stretch the print to between 95 and 105 percent")
  .max(1_050, "Stretch the print to between 95 and 105 percent");

/** How far a printer is off, as its ruler sheet shows. */
export const printerShape = z.strictObject({
  name: line(40, "Name the printer, such as Office printer"),
  nudgeX: nudge.default(0),
  nudgeY: nudge.default(0),
  scaleX: scale.default(1_000),
  scaleY: scale.default(1_000),
});

export type PrinterInput = z.output<typeof printerShape>;

export const printerChange = printerShape.extend({ version: versionNumber });
