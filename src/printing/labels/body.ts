import type { Face, Faces, FontName } from "../fonts.ts";
import { toPoints } from "../lengths.ts";
import { keepLines, wrapEvenly } from "../text-fit.ts";
import type { Block, Part, Passage } from "./passages.ts";

/** Line pitch against the letter size. */
export const LEADING = 1.15;

/** Figures inside a care symbol this wide are as tall as capitals of 6 points. */
export const SMALLEST_SYMBOL = toPoints(4.5);
/** A symbol's width against the letters around it, and its height with bars against its width. */
const SYMBOL_SCALE = 2.4;
export const SYMBOL_HEIGHT = 1.12;

/** One line of the body; `top` counts from the body's upper edge. */
export interface Line {
  part: Part;
  face: FontName;
  size: number;
  text: string;
  top: number;
}

/** Where the care symbols go: how large, how many in a row, from which height on. */
export interface SymbolPlace {
  size: number;
  inRow: number;
  top: number;
}

export interface Body {
  /** The letter size that the passages' scales refer to. */
  size: number;
  lines: Line[];
  symbols?: SymbolPlace;
  height: number;
}

export interface Room {
  width: number;
  height: number;
}

/** Sets the blocks one under another at one letter size, as high as it takes. */
export function setBody(
  faces: Faces,
  blocks: readonly Block[],
  symbols: number,
  width: number,
  size: number,
): Body {
  const body: Body = { size, lines: [], height: 0 };
  for (const block of blocks) {
    if (body.height > 0) body.height += block.gap * size;
    if ("text" in block) setPassage(faces, block, width, body);
    else {
      const place = placeSymbols(symbols, width, size);
      body.symbols = { ...place, top: body.height };
      body.height += Math.ceil(symbols / place.inRow) * place.size * SYMBOL_HEIGHT;
    }
  }
  return body;
}

function setPassage(faces: Faces, passage: Passage, width: number, body: Body): void {
  const size = body.size * passage.scale;
  const face = faces[passage.face];
  const all = wrapWhole(face, passage, size, width);
  const most = passage.mostLines ?? all.length;
  for (const line of keepLines(face, all, size, width, most)) {
    // A dot between two texts has nothing to part where the line breaks.
    const text = line.replace(/^· | ·$/g, "");
    body.lines.push({ part: passage.part, face: passage.face, size, text, top: body.height });
    body.height += LEADING * size;
  }
}

/** A percentage and the fibre it belongs to: they stay on one line where the line is long enough. */
const SHARE = /\d+(?:[.,]\d+)? ?% \S+/g;
const NO_BREAK = "\u00a0";

function wrapWhole(face: Face, { part, text }: Passage, size: number, width: number): string[] {
  if (part !== "fibre") return wrapEvenly(face, text, size, width);
  const glued = text.replace(SHARE, (share) =>
    face.width(share, size) <= width ? share.replaceAll(" ", NO_BREAK) : share,
  );
  return wrapEvenly(face, glued, size, width).map((line) => line.replaceAll(NO_BREAK, " "));
}

/** In one row when that leaves the symbols large enough to read, else in as few rows as it takes. */
function placeSymbols(count: number, width: number, size: number): Omit<SymbolPlace, "top"> {
  const wanted = Math.max(SMALLEST_SYMBOL, size * SYMBOL_SCALE);
  const fitting = Math.min(wanted, width / count);
  if (fitting >= SMALLEST_SYMBOL) return { size: fitting, inRow: count };
  return { size: wanted, inRow: Math.max(1, Math.floor(width / wanted)) };
}

/** The blocks at the largest of the sizes at which all of them fit whole, if there is one. */
export function setLargest(
  faces: Faces,
  blocks: readonly Block[],
  symbols: number,
  room: Room,
  sizes: readonly number[],
): Body | undefined {
  for (const size of sizes) {
    if (leastHeight(faces, blocks, room.width, size) > room.height) continue;
    const body = setBody(faces, blocks, symbols, room.width, size);
    if (body.height <= room.height) return body;
  }
  return undefined;
}

/** A height that is never too much: as if lines could break anywhere. It spares most wrapping. */
function leastHeight(faces: Faces, blocks: readonly Block[], width: number, size: number): number {
  let height = 0;
  for (const block of blocks) {
    if (!("text" in block)) continue;
    const letters = size * block.scale;
    const face = faces[block.face];
    // Every break between two lines swallows a space.
    const space = face.width(" ", letters);
    const lines = Math.ceil((face.width(block.text, letters) + space) / (width + space) - SLACK);
    height += LEADING * letters * Math.min(lines, block.mostLines ?? lines);
  }
  return height;
}

const SLACK = 0.001;
