import type { Face } from "./fonts.ts";

/** A row of bars: element widths in modules (bar, space, bar …), the rest in points. */
export interface Bars {
  x: number;
  y: number;
  height: number;
  module: number;
  widths: readonly number[];
}

/** A straight strip of plain weave, two threads wide. */
export interface Weave {
  x: number;
  y: number;
  length: number;
  thread: number;
  direction: "across" | "down";
}

/** Red, green and blue from 0 to 1. */
export type Color = readonly [red: number, green: number, blue: number];

/**
 * What a layout may put on paper. All lengths are points from the top left corner; text stands on
 * its baseline.
 */
export interface Ink {
  text(face: Face, size: number, x: number, baseline: number, text: string): void;
  bars(bars: Bars): void;
  weave(weave: Weave): void;
  rule(x: number, y: number, width: number, thickness: number): void;
  color(color: Color): void;
}

/** To a thousandth of a point, which is finer than any printer. */
const figure = (value: number): number => Math.floor(value * 1000 + 0.5) / 1000;

/**
 * One page's content, written as PDF operators. A page is handed over in one piece: one string for
 * a sheet costs far less than several calls for every word.
 */
export class PageInk implements Ink {
  readonly #operators: string[] = [];
  readonly #faces = new Set<Face>();
  #font = "";

  text(face: Face, size: number, x: number, baseline: number, text: string): void {
    const font = `/${face.id} ${figure(size)} Tf`;
    this.#faces.add(face);
    if (font !== this.#font) this.#operators.push(font);
    this.#font = font;
    // The page is drawn with y downwards, so the letters are turned upright again.
    const place = `1 0 0 -1 ${figure(x)} ${figure(baseline)} Tm`;
    this.#operators.push(`BT ${place} <${face.codes(text)}> Tj ET`);
  }

  bars({ x, y, height, module, widths }: Bars): void {
    let path = "";
    let modules = 0;
    widths.forEach((width, index) => {
      if (index % 2 === 0) {
        const left = figure(x + modules * module);
        path += `${left} ${figure(y)} ${figure(width * module)} ${figure(height)} re `;
      }
      modules += width;
    });
    this.#operators.push(`${path}f`);
  }

  weave({ x, y, length, thread, direction }: Weave): void {
    const floats = Math.max(1, Math.floor(length / thread));
    // A hair longer than its share, so that no sliver of a further square shows at the end.
    const float = figure(length / floats + 0.001);
    this.#operators.push(`${figure(thread)} w`);
    for (const pick of [0, 1]) {
      const middle = (pick + 0.5) * thread;
      const [startX, startY] = direction === "down" ? [x + middle, y] : [x, y + middle];
      const [endX, endY] = direction === "down" ? [startX, y + length] : [x + length, startY];
      const dash = `[${float} ${float}] ${pick * float} d`;
      const line = `${figure(startX)} ${figure(startY)} m ${figure(endX)} ${figure(endY)} l S`;
      this.#operators.push(`${dash} ${line}`);
    }
    this.#operators.push("[] 0 d");
  }

  rule(x: number, y: number, width: number, thickness: number): void {
    const [left, right, level] = [figure(x), figure(x + width), figure(y)];
    this.#operators.push(`${figure(thickness)} w ${left} ${level} m ${right} ${level} l S`);
  }

  color([red, green, blue]: Color): void {
    this.#operators.push(`${red} ${green} ${blue} rg ${red} ${green} ${blue} RG`);
  }

  /** Adds a page of the given size in points to the document and puts this ink on it. */
  print(document: PDFKit.PDFDocument, width: number, height: number): void {
    document.addPage({ size: [width, height], margin: 0 });
    for (const face of this.#faces) document.page.fonts[face.id] = face.reference();
    document.addContent(this.#operators.join("\n"));
  }
}
