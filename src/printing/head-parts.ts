import { type Flow, LEADING } from "./flow.ts";
import type { Face } from "./fonts.ts";
import { toPoints } from "./lengths.ts";
import { DYE, INK } from "./look.ts";
import { shorten, tidy } from "./text-fit.ts";

const THREAD = toPoints(0.7);

export interface Entry {
  face: Face;
  size: number;
  text: string;
}

export const small = (face: Face, texts: string[]): Entry[] =>
  texts.map((text) => ({ face, size: 9, text }));

/** Two blocks side by side, the right one set against the right edge. */
export function drawPair(flow: Flow, left: Entry[], right: Entry[]): void {
  const { area } = flow;
  const room = { left: flow.width * 0.58, right: flow.width * 0.4 };
  const draw = (entries: Entry[], width: number, toRight: boolean): number => {
    let y = flow.y;
    for (const { face, size, text } of entries) {
      const shown = shorten(face, tidy(text), size, width);
      const x = toRight ? area.right - face.width(shown, size) : area.left;
      if (shown !== "") flow.ink.text(face, size, x, y + size, shown);
      y += LEADING * size;
    }
    return y;
  };
  flow.y = Math.max(draw(left, room.left, false), draw(right, room.right, true));
}

/** The woven line under the head of a page. */
export function drawBorder(flow: Flow): void {
  const { ink, area, width } = flow;
  ink.color(DYE);
  ink.weave({ x: area.left, y: flow.y, length: width, thread: THREAD, direction: "across" });
  ink.color(INK);
  flow.space(2 * THREAD);
}
