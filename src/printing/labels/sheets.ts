import { type Faces, openFaces } from "../fonts.ts";
import { PageInk, type Shift } from "../ink.ts";
import { toPoints } from "../lengths.ts";
import {
  type Box,
  type Cell,
  cells,
  clearPart,
  labelsOn,
  paperOf,
  type Stock,
} from "../stock-shape.ts";
import { drawGuides } from "./guides.ts";
import type { Laid } from "./laid.ts";
import { drawMarks } from "./marks.ts";

/** The places of the first sheet that are still to be had. */
export function freePlaces(
  stock: Stock,
  { startAt = 1, skip = [] }: { startAt?: number; skip?: readonly number[] },
): Cell[] {
  const count = labelsOn(stock);
  for (const place of [startAt, ...skip]) {
    if (!Number.isInteger(place) || place < 1 || place > count) {
      throw new RangeError(`A place on the sheet is one of 1 to ${count}, not ${place}.`);
    }
  }
  const free = cells(stock).filter((_, index) => index + 1 >= startAt && !skip.includes(index + 1));
  if (free.length === 0) throw new RangeError("No label of the first sheet is left to print on.");
  return free;
}

/** Pages of one stock, filled label by label. */
export class Sheets {
  readonly #document: PDFKit.PDFDocument;
  readonly #faces: Faces;
  readonly #stock: Stock;
  readonly #all: Cell[];
  readonly #home: Box;
  readonly #shift: Shift;
  #free: Cell[];
  #used = 0;
  #ink = new PageInk();
  #height: number;

  constructor(document: PDFKit.PDFDocument, stock: Stock, firstFree: Cell[], shift: Shift) {
    this.#document = document;
    this.#faces = openFaces(document);
    this.#stock = stock;
    this.#all = cells(stock);
    this.#home = clearPart(stock);
    this.#free = firstFree;
    this.#shift = shift;
    this.#height = toPoints(paperOf(stock).height);
  }

  get full(): boolean {
    return this.#used === this.#free.length;
  }

  add({ marks, height }: Laid): void {
    const cell = this.#free[this.#used]!;
    // The marks are set for the label in the middle of the page; this one's clear part may lie
    // a little off, away from the paper's edge.
    this.#ink.origin(
      toPoints(cell.clear.left - this.#home.left),
      toPoints(cell.clear.top - this.#home.top),
    );
    drawMarks(this.#ink, this.#faces, marks);
    this.#used += 1;
    const { media } = this.#stock;
    if (media.kind === "roll" && media.length === "continuous") this.#height = height;
  }

  /** Puts the page into the document and starts with an empty one. */
  finish(): void {
    drawGuides(this.#ink, this.#stock);
    const width = toPoints(paperOf(this.#stock).width);
    this.#ink.print(this.#document, width, this.#height, this.#shift);
    this.#ink = new PageInk();
    this.#free = this.#all;
    this.#used = 0;
  }
}
