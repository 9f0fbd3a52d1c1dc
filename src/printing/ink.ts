import type { Face } from "./fonts.ts";
import {
  type Bars,
  type Color,
  figure,
  type Path,
  picksOf,
  runsOf,
  type Segment,
  type Squares,
  type Weave,
} from "./shapes.ts";

export type { Bars, Color, Path, Squares, Weave } from "./shapes.ts";

/**
 * What a layout may put on paper. All lengths are points from the origin, which is the top left
 * corner of the page until it is moved; text stands on its baseline.
 */
export interface Ink {
  origin(x: number, y: number): void;
  text(face: Face, size: number, x: number, baseline: number, text: string): void;
  bars(bars: Bars): void;
  squares(squares: Squares): void;
  weave(weave: Weave): void;
  rule(x: number, y: number, width: number, thickness: number): void;
  path(path: Path): void;
  color(color: Color): void;
}

/** The first four figures of a transformation's last two rows: stretch and shift of a page. */
export interface Shift {
  scaleX: number;
  scaleY: number;
  x: number;
  y: number;
}

/**
 * One page's content, written as PDF operators. A page is handed over in one piece: one string for
 * a sheet costs far less than several calls for every word.
 */
export class PageInk implements Ink {
  readonly #operators: string[] = [];
  readonly #faces = new Set<Face>();
  #font = "";
  #x = 0;
  #y = 0;

  origin(x: number, y: number): void {
    this.#x = x;
    this.#y = y;
  }

  text(face: Face, size: number, x: number, baseline: number, text: string): void {
    const font = `/${face.id} ${figure(size)} Tf`;
    this.#faces.add(face);
    if (font !== this.#font) this.#operators.push(font);
    this.#font = font;
    // The page is drawn with y downwards, so the letters are turned upright again.
    const place = `1 0 0 -1 ${this.#point(x, baseline)} Tm`;
    this.#operators.push(`BT ${place} <${face.codes(text)}> Tj ET`);
  }

  bars({ x, y, height, module, widths }: Bars): void {
    let path = "";
    let modules = 0;
    widths.forEach((width, index) => {
      if (index % 2 === 0) {
        const corner = this.#point(x + modules * module, y);
        path += `${corner} ${figure(width * module)} ${figure(height)} re `;
      }
      modules += width;
    });
    this.#operators.push(`${path}f`);
  }

  squares(squares: Squares): void {
    const path = runsOf(squares).map((run) => {
      const corner = this.#point(squares.x + run.x, squares.y + run.y);
      return `${corner} ${figure(run.width)} ${figure(squares.module)} re`;
    });
    this.#operators.push(`${path.join(" ")} f`);
  }

  weave(weave: Weave): void {
    this.#operators.push(`${figure(weave.thread)} w`);
    for (const { startX, startY, endX, endY, float, phase } of picksOf(weave)) {
      const line = `${this.#point(startX, startY)} m ${this.#point(endX, endY)} l S`;
      this.#operators.push(`[${float} ${float}] ${phase} d ${line}`);
    }
    this.#operators.push("[] 0 d");
  }

  rule(x: number, y: number, width: number, thickness: number): void {
    const line = `${this.#point(x, y)} m ${this.#point(x + width, y)} l S`;
    this.#operators.push(`${figure(thickness)} w ${line}`);
  }

  path({ segments, paint }: Path): void {
    const steps = segments.map((segment) => this.#step(segment)).join(" ");
    if (paint === "fill") this.#operators.push(`${steps} f`);
    else this.#operators.push(`q 1 J 1 j ${figure(paint.stroke)} w ${steps} S Q`);
  }

  color([red, green, blue]: Color): void {
    this.#operators.push(`${red} ${green} ${blue} rg ${red} ${green} ${blue} RG`);
  }

  /**
   * Adds a page of the given size in points to the document and puts this ink on it; `shift` moves
   * and stretches everything for a printer that is a little off.
   */
  print(document: PDFKit.PDFDocument, width: number, height: number, shift?: Shift): void {
    document.addPage({ size: [width, height], margin: 0 });
    for (const face of this.#faces) document.page.fonts[face.id] = face.reference();
    if (shift !== undefined) {
      const { scaleX, scaleY, x, y } = shift;
      document.addContent(`${scaleX} 0 0 ${scaleY} ${figure(x)} ${figure(y)} cm`);
    }
    document.addContent(this.#operators.join("\n"));
  }

  #point(x: number, y: number): string {
    return `${figure(x + this.#x)} ${figure(y + this.#y)}`;
  }

  #step(segment: Segment): string {
    switch (segment[0]) {
      case "M":
        return `${this.#point(segment[1], segment[2])} m`;
      case "L":
        return `${this.#point(segment[1], segment[2])} l`;
      case "C": {
        const [, x1, y1, x2, y2, x, y] = segment;
        return `${this.#point(x1, y1)} ${this.#point(x2, y2)} ${this.#point(x, y)} c`;
      }
      case "Z":
        return "h";
    }
  }
}
