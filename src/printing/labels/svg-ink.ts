import type { Face } from "../fonts.ts";
import type { Ink } from "../ink.ts";
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
} from "../shapes.ts";

export const escapeMarkup = (text: string): string =>
  text.replace(/[&<>"']/g, (character) => `&#${character.codePointAt(0)};`);

const channel = (part: number): number => Math.floor(part * 255 + 0.5);

/**
 * The same ink as an SVG picture. Letters are drawn as their outlines, so that a preview looks like
 * the paper even where the font is missing; each line of text keeps its words in its label.
 */
export class SvgInk implements Ink {
  readonly #parts: string[] = [];
  readonly #glyphs = new Map<string, string>();
  #x = 0;
  #y = 0;
  #color = "#000";

  origin(x: number, y: number): void {
    this.#x = x;
    this.#y = y;
  }

  text(face: Face, size: number, x: number, baseline: number, text: string): void {
    const scale = size / face.unitsPerEm;
    let advance = 0;
    let letters = "";
    for (const character of text) {
      letters += `<use href="#${this.#glyph(face, character)}" x="${figure(advance)}"/>`;
      advance += face.width(character, face.unitsPerEm);
    }
    const place = `translate(${this.#point(x, baseline)}) scale(${scale} ${-scale})`;
    const words = escapeMarkup(text);
    this.#add(`<g role="img" aria-label="${words}" transform="${place}">${letters}</g>`);
  }

  bars({ x, y, height, module, widths }: Bars): void {
    let modules = 0;
    let path = "";
    widths.forEach((width, index) => {
      if (index % 2 === 0) path += this.#box(x + modules * module, y, width * module, height);
      modules += width;
    });
    this.#add(`<path fill="${this.#color}" d="${path}"/>`);
  }

  squares(squares: Squares): void {
    const path = runsOf(squares).map((run) =>
      this.#box(squares.x + run.x, squares.y + run.y, run.width, squares.module),
    );
    this.#add(`<path fill="${this.#color}" d="${path.join("")}"/>`);
  }

  weave(weave: Weave): void {
    for (const { startX, startY, endX, endY, float, phase } of picksOf(weave)) {
      const line = `M${this.#point(startX, startY)}L${this.#point(endX, endY)}`;
      const dashes = `stroke-dasharray="${float}" stroke-dashoffset="${phase}"`;
      this.#stroke(line, weave.thread, dashes);
    }
  }

  rule(x: number, y: number, width: number, thickness: number): void {
    this.#stroke(`M${this.#point(x, y)}L${this.#point(x + width, y)}`, thickness, "");
  }

  path({ segments, paint }: Path): void {
    const steps = segments.map((segment) => this.#step(segment)).join("");
    if (paint === "fill") this.#add(`<path fill="${this.#color}" d="${steps}"/>`);
    else this.#stroke(steps, paint.stroke, `stroke-linecap="round" stroke-linejoin="round"`);
  }

  color(color: Color): void {
    this.#color = `rgb(${color.map(channel).join(" ")})`;
  }

  /** The finished drawing: the outlines of all letters used, then everything in drawing order. */
  get markup(): string {
    return `<defs>${[...this.#glyphs.values()].join("")}</defs>${this.#parts.join("")}`;
  }

  #add(part: string): void {
    this.#parts.push(part);
  }

  #stroke(steps: string, width: number, more: string): void {
    const paint = `fill="none" stroke="${this.#color}" stroke-width="${figure(width)}"`;
    this.#add(`<path ${paint} ${more} d="${steps}"/>`);
  }

  #glyph(face: Face, character: string): string {
    const id = `${face.name[0]}${character.codePointAt(0)!.toString(36)}`;
    if (!this.#glyphs.has(id)) {
      this.#glyphs.set(id, `<path id="${id}" d="${face.outline(character)}"/>`);
    }
    return id;
  }

  #point(x: number, y: number): string {
    return `${figure(x + this.#x)} ${figure(y + this.#y)}`;
  }

  #box(x: number, y: number, width: number, height: number): string {
    const across = figure(width);
    return `M${this.#point(x, y)}h${across}v${figure(height)}h${-across}z`;
  }

  #step(segment: Segment): string {
    if (segment[0] === "Z") return "Z";
    const [kind, ...figures] = segment;
    const points: string[] = [];
    for (let index = 0; index < figures.length; index += 2) {
      points.push(this.#point(figures[index]!, figures[index + 1]!));
    }
    return `${kind}${points.join(" ")}`;
  }
}
