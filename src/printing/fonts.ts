import { createRequire } from "node:module";
import { openDocument } from "./document.ts";

const resolve = createRequire(import.meta.url).resolve;

/** DejaVu carries the letters of Europe's languages, fractions and currency signs. */
export const fontFiles = {
  regular: resolve("dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf"),
  bold: resolve("dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf"),
};

export type FontName = keyof typeof fontFiles;

/** How far letters reach above and below the baseline, as parts of the letter size (measured). */
export const CAPITAL_HEIGHT = 0.73;
export const ASCENT = 0.8;
export const DESCENT = 0.24;

/** The part of a pdfkit font that puts letters into its subset; its types leave it out. */
interface EmbeddedFont {
  id: string;
  encode(text: string): [codes: string[], positions: unknown[]];
  widthOfString(text: string, size: number): number;
  ref(): unknown;
  /** The font file itself, with the outlines of its letters. */
  font: {
    unitsPerEm: number;
    glyphForCodePoint(point: number): { path: { toSVG(): string } };
  };
}

interface Glyph {
  code: string;
  width: number;
}

/** So many measured texts are remembered; then the memory starts anew, so that it stays small. */
const MOST_WIDTHS = 5000;

/**
 * One font of one document. Each character is shaped once and remembered: laying out every string
 * anew is what makes large sheets slow. Letters are set one by one without kerning, so a measured
 * width is exactly the printed width.
 */
export class Face {
  readonly name: FontName;
  readonly #font: EmbeddedFont;
  readonly #glyphs = new Map<string, Glyph>();
  readonly #widths = new Map<string, number>();

  constructor(name: FontName, font: EmbeddedFont) {
    this.name = name;
    this.#font = font;
  }

  get id(): string {
    return this.#font.id;
  }

  /** The object a page's resources point to. */
  reference(): unknown {
    return this.#font.ref();
  }

  /** The width in points at a size in points. */
  width(text: string, size: number): number {
    let width = this.#widths.get(text);
    if (width === undefined) {
      width = 0;
      for (const character of text) width += this.#glyph(character).width;
      if (this.#widths.size >= MOST_WIDTHS) this.#widths.clear();
      this.#widths.set(text, width);
    }
    return (width * size) / 1000;
  }

  /** The text as the hexadecimal codes of this document's font subset. */
  codes(text: string): string {
    let codes = "";
    for (const character of text) codes += this.#glyph(character).code;
    return codes;
  }

  /** How many units of the outlines make one letter size. */
  get unitsPerEm(): number {
    return this.#font.font.unitsPerEm;
  }

  /** One letter's outline as an SVG path, y upwards, in the font's own units. */
  outline(character: string): string {
    return this.#font.font.glyphForCodePoint(character.codePointAt(0)!).path.toSVG();
  }

  #glyph(character: string): Glyph {
    let glyph = this.#glyphs.get(character);
    if (glyph === undefined) {
      const [codes] = this.#font.encode(character);
      glyph = { code: codes.join(""), width: this.#font.widthOfString(character, 1000) };
      this.#glyphs.set(character, glyph);
    }
    return glyph;
  }
}

export type Faces = Record<FontName, Face>;

/** Opens both fonts in a document; only the letters used are embedded. */
export function openFaces(document: PDFKit.PDFDocument): Faces {
  const open = (name: FontName): Face => {
    document.font(fontFiles[name]);
    return new Face(name, (document as unknown as { _font: EmbeddedFont })._font);
  };
  return { regular: open("regular"), bold: open("bold") };
}

let measuring: Faces | undefined;

/** Faces for measuring and for previews, of a document that is never printed. */
export function measuringFaces(): Faces {
  measuring ??= openFaces(openDocument({ title: "", author: "", createdAt: new Date(0) }));
  return measuring;
}
