import { type Calibration, perfect, shiftOf } from "./calibration.ts";
import { closeDocument, openDocument } from "./document.ts";
import { CAPITAL_HEIGHT, type Faces, openFaces } from "./fonts.ts";
import { type Ink, PageInk } from "./ink.ts";
import { outlineOf } from "./labels/outline.ts";
import { toPoints } from "./lengths.ts";
import type { Segment } from "./shapes.ts";
import { cells, paperOf, type Stock, type StockName, stockOf } from "./stock.ts";
import { wrap } from "./text-fit.ts";

const HAIR = 0.35;
const SMALL = 6;
/** Rulers are this long where the paper allows, else the most whole centimetres that do. */
const LONGEST = 100;
/** Nearer to the edge ordinary printers leave things out. */
const EDGE = 6;
/** Lengths of the strokes at millimetres, fives and tens. */
const STROKES = { one: 1.2, five: 1.9, ten: 2.8 };

export interface RulerOptions {
  createdAt: Date;
  /** Printed with the figures in use, the sheet shows whether they are right. */
  calibration?: Calibration;
}

/**
 * A sheet to lay a ruler and the real labels on: the outline and number of every label, and a scale
 * of 100 mm both ways through the middle of the paper.
 */
export async function printRuler(
  chosen: StockName | Stock,
  options: RulerOptions,
): Promise<Uint8Array> {
  const stock = stockOf(chosen);
  const document = openDocument({
    title: `Ruler sheet: ${stock.words}`,
    author: "Thrumbook",
    createdAt: options.createdAt,
  });
  const faces = openFaces(document);
  const ink = new PageInk();
  const paper = paperOf(stock);
  drawLabels(ink, faces, stock);
  const across = Math.min(LONGEST, tens(paper.width - 2 * EDGE));
  const down = Math.min(LONGEST, tens(paper.height - 2 * EDGE));
  const x = (paper.width - across) / 2;
  const y = (paper.height - down) / 2;
  drawRuler(ink, faces, { x, y, length: across, direction: "across" });
  drawRuler(ink, faces, { x, y, length: down, direction: "down" });
  drawWords(ink, faces, x + CLEAR, y + CLEAR, Math.min(across, 80) - CLEAR, { across, down });
  const shift = shiftOf(options.calibration ?? perfect);
  ink.print(document, toPoints(paper.width), toPoints(paper.height), shift);
  return closeDocument(document);
}

/** So far in from both scales their figures end and the holes of hang-tags lie behind. */
const CLEAR = 14;

const tens = (length: number): number => Math.floor(length / 10) * 10;

function drawLabels(ink: Ink, faces: Faces, stock: Stock): void {
  const height = toPoints(stock.label.height);
  cells(stock).forEach((cell, index) => {
    const outline = outlineOf(stock, toPoints(cell.x), toPoints(cell.y), height);
    ink.path({ segments: outline, paint: { stroke: HAIR } });
    const number = String(index + 1);
    const [left, bottom] = [toPoints(cell.clear.left), toPoints(cell.clear.bottom)];
    ink.text(faces.regular, SMALL, left, bottom, number);
  });
}

interface Ruler {
  x: number;
  y: number;
  length: number;
  direction: "across" | "down";
}

function drawRuler(ink: Ink, faces: Faces, { x, y, length, direction }: Ruler): void {
  const across = direction === "across";
  const at = (along: number, aside: number): [number, number] =>
    across
      ? [toPoints(x + along), toPoints(y + aside)]
      : [toPoints(x + aside), toPoints(y + along)];
  const segments: Segment[] = [
    ["M", ...at(0, 0)],
    ["L", ...at(length, 0)],
  ];
  for (let millimetre = 0; millimetre <= length; millimetre += 1) {
    const stroke =
      millimetre % 10 === 0 ? STROKES.ten : millimetre % 5 === 0 ? STROKES.five : STROKES.one;
    segments.push(["M", ...at(millimetre, 0)], ["L", ...at(millimetre, stroke)]);
  }
  ink.path({ segments, paint: { stroke: HAIR } });
  for (let centimetre = 10; centimetre <= length; centimetre += 10) {
    const [textX, textY] = at(centimetre, STROKES.ten + 0.6);
    const drop = across ? CAPITAL_HEIGHT * SMALL : (CAPITAL_HEIGHT * SMALL) / 2;
    const shown = String(centimetre);
    const back = across ? faces.regular.width(shown, SMALL) / 2 : 0;
    ink.text(faces.regular, SMALL, textX - back, textY + drop, shown);
  }
}

function drawWords(
  ink: Ink,
  faces: Faces,
  x: number,
  y: number,
  width: number,
  { across, down }: { across: number; down: number },
): void {
  const words = [
    `Across ${across} mm, down ${down} mm. Print at actual size and measure both.`,
    "Hold the sheet and your labels against the light. Type in how far the outlines are off.",
  ];
  const size = 7;
  let line = toPoints(y);
  for (const text of words.flatMap((part) => wrap(faces.regular, part, size, toPoints(width)))) {
    line += 1.3 * size;
    ink.text(faces.regular, size, toPoints(x), line, text);
  }
}
