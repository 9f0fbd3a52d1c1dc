import type { Face } from "./fonts.ts";

const ELLIPSIS = "…";

/**
 * One line of composed characters without control marks, so that a pasted tab or line break
 * cannot print as an empty box.
 */
export const tidy = (text: string): string =>
  text
    .normalize("NFC")
    .replace(/\s+/g, " ")
    .replace(/[\p{Cc}\p{Cf}]/gu, "")
    .trim();

/** A word is given up whole when at least this part of the room stays filled. */
const FILLED = 0.5;

/**
 * Cuts the end off and adds an ellipsis; a text that fits comes back as it is. It ends with a whole
 * word where that does not leave most of the line empty.
 */
export function shorten(face: Face, text: string, size: number, room: number): string {
  if (face.width(text, size) <= room) return text;
  const kept: string[] = [];
  let left = room - face.width(ELLIPSIS, size);
  for (const character of text) {
    left -= face.width(character, size);
    if (left < 0) break;
    kept.push(character);
  }
  const cut = kept.join("");
  const next = text[cut.length] ?? " ";
  const whole = next === " " ? cut : cut.slice(0, Math.max(0, cut.lastIndexOf(" ")));
  const shown = face.width(whole, size) >= FILLED * room ? whole : cut;
  return shown.replace(/[\s.,;:·-]+$/, "") + ELLIPSIS;
}

/** Breaks at spaces into as many lines as it takes; a word wider than the room is cut. */
export function wrap(face: Face, text: string, size: number, room: number): string[] {
  const lines: string[] = [];
  const space = face.width(" ", size);
  let line = "";
  let used = 0;
  for (const word of text.split(" ")) {
    const width = face.width(word, size);
    if (line !== "" && used + space + width <= room) {
      line += ` ${word}`;
      used += space + width;
      continue;
    }
    if (line !== "") lines.push(line);
    const pieces = width <= room ? [word] : cutWord(face, word, size, room);
    lines.push(...pieces.slice(0, -1));
    line = pieces.at(-1) ?? "";
    used = face.width(line, size);
  }
  if (line !== "") lines.push(line);
  return lines;
}

/** A last line shorter than this part of the room looks like a mistake. */
const STUMP = 0.36;
/** Halving a line so often finds its best width to a hundredth. */
const HALVINGS = 7;

/** Like `wrap`, in as many lines, but their ends are evened out when the last would be a stump. */
export function wrapEvenly(face: Face, text: string, size: number, room: number): string[] {
  const lines = wrap(face, text, size, room);
  const last = lines.at(-1) ?? "";
  if (lines.length < 2 || face.width(last, size) >= STUMP * room) return lines;
  let narrow = Math.max(...text.split(" ").map((word) => face.width(word, size)));
  // A word that has to be cut keeps the whole width.
  if (narrow > room) return lines;
  let even = lines;
  let wide = room;
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (narrow + wide) / 2;
    const tried = wrap(face, text, size, middle);
    if (tried.length > lines.length) narrow = middle;
    else {
      wide = middle;
      even = tried;
    }
  }
  return even;
}

function cutWord(face: Face, word: string, size: number, room: number): string[] {
  const pieces: string[] = [];
  let piece = "";
  let used = 0;
  for (const character of word) {
    const width = face.width(character, size);
    if (piece !== "" && used + width > room) {
      pieces.push(piece);
      piece = "";
      used = 0;
    }
    piece += character;
    used += width;
  }
  pieces.push(piece);
  return pieces;
}

/** Keeps the first lines and ends the last kept one with an ellipsis when more would follow. */
export function keepLines(
  face: Face,
  lines: string[],
  size: number,
  room: number,
  most: number,
): string[] {
  if (lines.length <= most) return lines;
  const rest = lines.slice(most - 1).join(" ");
  return [...lines.slice(0, most - 1), shorten(face, rest, size, room)];
}

/**
 * The largest size in points, in quarter points, at which a text that must never be shortened (a
 * price, a tag number) stands in the room; it may come out too small to print.
 */
export function fittingSize(face: Face, text: string, room: number, largest: number): number {
  const fitting = (room * largest) / Math.max(face.width(text, largest), Number.EPSILON);
  return Math.min(largest, Math.floor(fitting * 4) / 4);
}

/** The same, and it throws when even the smallest size is too wide. */
export function sizeFor(
  face: Face,
  text: string,
  room: number,
  largest: number,
  smallest: number,
): number {
  const size = fittingSize(face, text, room, largest);
  if (size < smallest) throw new RangeError(`"${text}" is too long for its place on the paper.`);
  return size;
}
