import type { Faces } from "../fonts.ts";
import { type Body, type Line, type Room, setBody, setLargest } from "./body.ts";
import type { Block, Part } from "./passages.ts";

/** What a label keeps first when not all that must print has room: what the law wants, by weight. */
const FIRST: readonly Part[] = [
  "title",
  "fibre",
  "caution",
  "care",
  "origin",
  "identity",
  "notes",
  "size",
];

export interface Shared {
  kept: Block[];
  /** These go to a second label; a part is never torn in two. */
  left: Block[];
}

/** Shares the blocks out at one letter size: whole parts while there is room, the rest is left. */
export function shareOut(
  faces: Faces,
  blocks: readonly Block[],
  { width, height }: Room,
  size: number,
): Shared {
  let room = height;
  const kept = new Set<Part>();
  for (const part of FIRST) {
    const own = blocks.filter((block) => block.part === part);
    if (own.length === 0) continue;
    const gaps = own.reduce((sum, { gap }) => sum + gap * size, 0);
    const needed = setBody(faces, own, 0, width, size).height + gaps;
    if (needed > room) continue;
    room -= needed;
    kept.add(part);
  }
  return {
    kept: blocks.filter(({ part }) => kept.has(part)),
    left: blocks.filter(({ part }) => !kept.has(part)),
  };
}

/** The parts of these blocks, each once. */
export const partsOf = (blocks: readonly Block[]): Part[] => [
  ...new Set(blocks.map(({ part }) => part)),
];

/** The blocks over as many further labels as they need; a part is broken only between lines. */
export function flowOn(
  faces: Faces,
  blocks: readonly Block[],
  room: Room,
  sizes: readonly number[],
): Body[] {
  const whole = setLargest(faces, blocks, 0, room, sizes);
  if (whole !== undefined) return [whole];
  const size = sizes.at(-1)!;
  const { lines } = setBody(faces, blocks, 0, room.width, size);
  const bodies: Body[] = [];
  let current: Line[] = [];
  let start = 0;
  for (const [index, line] of lines.entries()) {
    const bottom = (lines[index + 1]?.top ?? line.top + 1.4 * line.size) - start;
    if (current.length > 0 && bottom > room.height) {
      bodies.push({ size, lines: current, height: room.height });
      current = [];
      start = line.top;
    }
    current.push({ ...line, top: line.top - start });
  }
  bodies.push({ size, lines: current, height: room.height });
  return bodies;
}
