import type { Path, Segment } from "../shapes.ts";
import { fine, place, through } from "./strokes.ts";

/** Figures and letters inside the symbols: single strokes in a box 5 wide and 8 high. */
const signs: Record<string, Segment[]> = {
  "0": [
    ["M", 2.5, 0],
    ["C", 4.4, 0, 5, 2, 5, 4],
    ["C", 5, 6, 4.4, 8, 2.5, 8],
    ["C", 0.6, 8, 0, 6, 0, 4],
    ["C", 0, 2, 0.6, 0, 2.5, 0],
    ["Z"],
  ],
  "3": [
    ["M", 0.3, 0.8],
    ["C", 1.2, -0.3, 4.6, -0.4, 4.6, 2],
    ["C", 4.6, 3.6, 3, 3.8, 1.9, 3.8],
    ["C", 3.4, 3.8, 5, 4.2, 5, 5.9],
    ["C", 5, 8.6, 1.2, 8.5, 0, 7.1],
  ],
  "4": through(3.8, 8, 3.8, 0, 0, 5.6, 5, 5.6),
  "5": [
    ...through(4.5, 0, 0.8, 0, 0.4, 3.5),
    ["C", 2, 2.6, 5, 2.9, 5, 5.4],
    ["C", 5, 8.4, 1.4, 8.6, 0, 7.2],
  ],
  "6": [
    ["M", 4.3, 0.4],
    ["C", 1.2, -0.6, 0, 2.6, 0, 5],
    ["C", 0, 9, 5, 9, 5, 5.4],
    ["C", 5, 2.2, 0.8, 2.4, 0.1, 5],
  ],
  "7": through(0, 0, 5, 0, 1.8, 8),
  "9": [
    ["M", 0.7, 7.6],
    ["C", 3.8, 8.6, 5, 5.4, 5, 3],
    ["C", 5, -1, 0, -1, 0, 2.6],
    ["C", 0, 5.8, 4.2, 5.6, 4.9, 3],
  ],
  P: [...through(0.3, 8, 0.3, 0, 2.6, 0), ["C", 5.6, 0, 5.6, 4.5, 2.6, 4.5], ["L", 0.3, 4.5]],
  F: [...through(0.4, 8, 0.4, 0, 4.8, 0), ...through(0.4, 3.8, 4.2, 3.8)],
  W: through(-1.2, 0, 0.7, 8, 2.5, 1.6, 4.3, 8, 6.2, 0),
};

const WIDTH = 5;
const STEP = 6.9;

/** A short text with its middle at x and its upper edge at y; `scale` 1 is 8 units high. */
export function sign(text: string, x: number, y: number, scale = 1): Path[] {
  const width = ((text.length - 1) * STEP + WIDTH) * scale;
  return [...text].map((character, index) => {
    const segments = signs[character];
    if (segments === undefined) throw new RangeError(`No care symbol has "${character}" in it.`);
    const left = x - width / 2 + index * STEP * scale;
    const [moved] = place([fine(...segments)], left, y, 24 * scale);
    return fine(...moved!.segments);
  });
}
