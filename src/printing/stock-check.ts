import type { FieldError } from "../rules/problem.ts";
import { clearPart, type RollMedia, type SheetMedia, type Stock } from "./stock-shape.ts";

/** The least clear part in millimetres: bars with their quiet zones, or a word and a symbol. */
const LEAST_CLEAR = {
  tag: { width: 40, height: 20 },
  "care-strip": { width: 18, height: 25 },
} as const;

const MOST_PAPER = 500;
const MOST_LABELS = 400;
/** A hundredth of a millimetre, so that figures converted from inches are not refused. */
const SLACK = 0.01;
const LEAST_BESIDE_HOLE = 1.5;

type Tell = (field: string, message: string) => void;

/** What is wrong with a stock, field by field in plain words; an empty list when it can be used. */
export function checkStock(stock: Stock): FieldError[] {
  const errors: FieldError[] = [];
  const tell: Tell = (field, message) => errors.push({ field, message });
  if (stock.name.trim() === "") tell("name", "Give this stock a short name.");
  if (stock.words.trim() === "") tell("words", "Describe this stock in a few words.");
  checkLengths(stock, tell);
  if (errors.length > 0) return errors;
  if (stock.media.kind === "sheet") checkSheet(stock, stock.media, tell);
  else checkRoll(stock, stock.media, tell);
  checkCornerAndHole(stock, tell);
  if (errors.length === 0) checkRoom(stock, tell);
  return errors;
}

function checkLengths({ media, label, corner }: Stock, tell: Tell): void {
  const positive = (field: string, value: number): void => {
    if (value > 0 && value <= MOST_PAPER) return;
    tell(field, `Give a length of more than 0 and at most ${MOST_PAPER} mm.`);
  };
  positive("label.width", label.width);
  positive("label.height", label.height);
  if (!(corner >= 0)) tell("corner", "Give 0 for square corners, or the radius in mm.");
  if (media.kind === "roll") {
    positive("media.width", media.width);
    positive("media.printable", media.printable);
    if (media.length !== "continuous") positive("media.length", media.length);
    return;
  }
  positive("media.paper.width", media.paper.width);
  positive("media.paper.height", media.paper.height);
  positive("media.pitch.across", media.pitch.across);
  positive("media.pitch.down", media.pitch.down);
  for (const side of ["left", "top"] as const) {
    if (!(media.margin[side] >= 0)) tell(`media.margin.${side}`, "Give 0 or more millimetres.");
  }
  for (const count of ["columns", "rows"] as const) {
    if (Number.isInteger(media[count]) && media[count] >= 1) continue;
    tell(`media.${count}`, "Give a whole number of at least 1.");
  }
}

function checkSheet({ label }: Stock, media: SheetMedia, tell: Tell): void {
  const { paper, margin, columns, rows, pitch } = media;
  if (columns * rows > MOST_LABELS) {
    tell("media.rows", `A sheet holds at most ${MOST_LABELS} labels.`);
  }
  if (columns > 1 && pitch.across < label.width - SLACK) {
    tell("media.pitch.across", "The labels would overlap: the step is less than their width.");
  }
  if (rows > 1 && pitch.down < label.height - SLACK) {
    tell("media.pitch.down", "The labels would overlap: the step is less than their height.");
  }
  if (margin.left + (columns - 1) * pitch.across + label.width > paper.width + SLACK) {
    tell("media.columns", "The last column would stand beyond the right edge of the paper.");
  }
  if (margin.top + (rows - 1) * pitch.down + label.height > paper.height + SLACK) {
    tell("media.rows", "The last row would stand below the lower edge of the paper.");
  }
}

function checkRoll({ label }: Stock, media: RollMedia, tell: Tell): void {
  if (media.printable > media.width + SLACK) {
    tell("media.printable", "The printable width cannot be more than the width of the roll.");
  }
  if (label.width > media.width + SLACK) {
    tell("label.width", "The label is wider than its roll.");
  }
  if (media.length !== "continuous" && media.length < label.height - SLACK) {
    tell("media.length", "The step from label to label is less than the label's height.");
  }
}

function checkCornerAndHole({ label, corner, hole }: Stock, tell: Tell): void {
  if (corner > Math.min(label.width, label.height) / 2) {
    tell("corner", "The corner radius is more than half of the label.");
  }
  if (hole === undefined) return;
  const reach = hole.diameter / 2 + LEAST_BESIDE_HOLE;
  if (!(hole.diameter >= 1 && hole.diameter <= 12)) {
    tell("hole.diameter", "Give a hole of 1 to 12 mm.");
  }
  if (!(hole.x >= reach && hole.x <= label.width - reach)) {
    tell("hole.x", "The hole has to stay inside the label, with 1.5 mm of paper beside it.");
  }
  if (!(hole.y >= reach && hole.y <= label.height - reach)) {
    tell("hole.y", "The hole has to stay inside the label, with 1.5 mm of paper beside it.");
  }
}

function checkRoom(stock: Stock, tell: Tell): void {
  const clear = clearPart(stock);
  const least = LEAST_CLEAR[stock.purpose === "care-strip" ? "care-strip" : "tag"];
  const why = "is left for ink after margins, paper edges and hole. Choose a larger label.";
  if (clear.right - clear.left < least.width) {
    tell("label.width", `Less than ${least.width} mm of width ${why}`);
  }
  if (clear.bottom - clear.top < least.height) {
    tell("label.height", `Less than ${least.height} mm of height ${why}`);
  }
}
