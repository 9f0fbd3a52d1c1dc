import type { Face } from "./fonts.ts";
import { keepLines, wrap } from "./text-fit.ts";

/** One text of a tag's body; `scale` sets its size against the body's size. */
export interface Passage {
  face: Face;
  text: string;
  scale: number;
}

export interface Line {
  face: Face;
  size: number;
  text: string;
}

/** Line pitch against the letter size. */
export const LEADING = 1.15;

interface Wrapped {
  passage: Passage;
  size: number;
  lines: string[];
}

/**
 * Sets the passages at the largest of the sizes at which all of them fit whole. When even the
 * smallest is too large, every passage gets a line first and then, in the order given by
 * `growing`, further lines while there is room; what still has no room ends with an ellipsis.
 */
export function setBody(
  passages: Passage[],
  room: { width: number; height: number },
  sizes: readonly number[],
  growing: readonly number[],
): Line[] {
  let wrapped: Wrapped[] = [];
  for (const body of sizes) {
    wrapped = passages.map((passage) => wrapPassage(passage, body, room.width));
    const height = wrapped.reduce((sum, { lines, size }) => sum + lines.length * size * LEADING, 0);
    if (height <= room.height) return wrapped.flatMap((one) => linesOf(one, one.lines));
  }
  const allowed = shareLines(wrapped, room.height, growing);
  return wrapped.flatMap((one, index) => {
    const most = allowed[index] ?? 0;
    if (most === 0) return [];
    return linesOf(one, keepLines(one.passage.face, one.lines, one.size, room.width, most));
  });
}

function wrapPassage(passage: Passage, body: number, width: number): Wrapped {
  const size = body * passage.scale;
  const lines = passage.text === "" ? [] : wrap(passage.face, passage.text, size, width);
  return { passage, size, lines };
}

const linesOf = ({ passage, size }: Wrapped, texts: string[]): Line[] =>
  texts.map((text) => ({ face: passage.face, size, text }));

/** How many lines each passage may keep when not everything fits. */
function shareLines(wrapped: Wrapped[], height: number, growing: readonly number[]): number[] {
  const allowed = wrapped.map(() => 0);
  let left = height;
  const grow = (index: number): boolean => {
    const one = wrapped[index];
    if (one === undefined || allowed[index] === one.lines.length) return false;
    const step = one.size * LEADING;
    if (step > left) return false;
    left -= step;
    allowed[index]! += 1;
    return true;
  };
  wrapped.forEach((_, index) => {
    grow(index);
  });
  while (growing.filter((index) => grow(index)).length > 0);
  return allowed;
}
