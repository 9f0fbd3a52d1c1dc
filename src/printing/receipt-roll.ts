import { DESCENT, type Face, type Faces } from "./fonts.ts";
import type { PageInk } from "./ink.ts";
import { SMALLEST_TEXT, toPoints } from "./lengths.ts";
import { sizeFor, tidy, wrap } from "./text-fit.ts";

/** An 80 mm paper roll; its printers reach the middle 72 mm. Common practice, no source. */
export const ROLL_WIDTH = toPoints(80);
const LEFT = toPoints(4);
const RIGHT = ROLL_WIDTH - LEFT;
const WIDTH = RIGHT - LEFT;

const LEADING = 1.3;
/** Least air between words and the figure at the end of their line. */
const AIR = 6;
/** The part of the width a figure may take before it is set smaller. */
const FIGURE_SHARE = 0.6;

/** Text going down a paper roll; `y` is the upper edge of what comes next, in points. */
export class Roll {
  readonly faces: Faces;
  readonly #ink: PageInk;
  y = toPoints(4);

  constructor(ink: PageInk, faces: Faces) {
    this.#ink = ink;
    this.faces = faces;
  }

  space(height: number): void {
    this.y += height;
  }

  rule(): void {
    this.space(3);
    this.#ink.rule(LEFT, this.y, WIDTH, 0.7);
    this.space(4);
  }

  weave(): void {
    const thread = toPoints(0.75);
    this.#ink.weave({ x: LEFT, y: this.y, length: WIDTH, thread, direction: "across" });
    this.space(2 * thread);
  }

  /** Lines in the middle of the roll, as many as the text takes. */
  centred(face: Face, size: number, text: string): void {
    for (const line of wrap(face, tidy(text), size, WIDTH)) {
      this.#ink.text(face, size, LEFT + (WIDTH - face.width(line, size)) / 2, this.y + size, line);
      this.y += LEADING * size;
    }
  }

  /** Words from the left edge, as many lines as they take. */
  words(face: Face, size: number, text: string): void {
    for (const line of wrap(face, tidy(text), size, WIDTH)) {
      this.#ink.text(face, size, LEFT, this.y + size, line);
      this.y += LEADING * size;
    }
  }

  /** Words with a figure against the right edge of their last line. */
  pair(face: Face, size: number, text: string, amount: string): void {
    const figure = tidy(amount);
    const fitted = sizeFor(face, figure, WIDTH * FIGURE_SHARE, size, SMALLEST_TEXT);
    const figureWidth = face.width(figure, fitted);
    const lines = wrap(face, tidy(text), size, WIDTH - figureWidth - AIR);
    lines.forEach((line, index) => {
      this.#ink.text(face, size, LEFT, this.y + size, line);
      if (index < lines.length - 1) this.y += LEADING * size;
    });
    if (figure !== "") {
      this.#ink.text(face, fitted, RIGHT - figureWidth, this.y + size, figure);
    }
    this.y += LEADING * size;
  }

  /** The paper's length so far, with a strip to tear off at. */
  get length(): number {
    return this.y + DESCENT * 8 + toPoints(5);
  }
}
