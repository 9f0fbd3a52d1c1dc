/** A row of bars: element widths in modules (bar, space, bar …), the rest in points. */
export interface Bars {
  x: number;
  y: number;
  height: number;
  module: number;
  widths: readonly number[];
}

/** A grid of squares such as a QR code; `rows` says for each square whether it is dark. */
export interface Squares {
  x: number;
  y: number;
  module: number;
  rows: readonly (readonly boolean[])[];
}

/** A straight strip of plain weave, two threads wide. */
export interface Weave {
  x: number;
  y: number;
  length: number;
  thread: number;
  direction: "across" | "down";
}

/** One step of a drawn line, in points: move, line, curve with two control points, close. */
export type Segment =
  | readonly ["M" | "L", x: number, y: number]
  | readonly ["C", x1: number, y1: number, x2: number, y2: number, x: number, y: number]
  | readonly ["Z"];

/** A line of some thickness with round ends, or a filled shape. */
export interface Path {
  segments: readonly Segment[];
  paint: "fill" | { stroke: number };
}

/** Red, green and blue from 0 to 1. */
export type Color = readonly [red: number, green: number, blue: number];

/** To a thousandth of a point, which is finer than any printer. */
export const figure = (value: number): number => Math.floor(value * 1000 + 0.5) / 1000;

interface Run {
  x: number;
  y: number;
  width: number;
}

/** The dark squares of each row joined into runs, in points from the grid's own corner. */
export function runsOf({ module, rows }: Squares): Run[] {
  return rows.flatMap((row, line) => {
    const runs: Run[] = [];
    row.forEach((dark, place) => {
      if (!dark) return;
      if (place > 0 && row[place - 1] === true) runs.at(-1)!.width += module;
      else runs.push({ x: place * module, y: line * module, width: module });
    });
    return runs;
  });
}

/** The two picks of a plain weave as dashed lines: where each starts and ends, and its dashes. */
export function picksOf({ x, y, length, thread, direction }: Weave) {
  const floats = Math.max(1, Math.floor(length / thread));
  // A hair longer than its share, so that no sliver of a further square shows at the end.
  const float = figure(length / floats + 0.001);
  return [0, 1].map((pick) => {
    const middle = (pick + 0.5) * thread;
    const [startX, startY] = direction === "down" ? [x + middle, y] : [x, y + middle];
    const [endX, endY] = direction === "down" ? [startX, y + length] : [x + length, startY];
    return { startX, startY, endX, endY, float, phase: pick * float };
  });
}

/** A circle from four curves; the factor is the usual one for a quarter of a circle. */
export function circle(x: number, y: number, radius: number): Segment[] {
  const pull = radius * 0.5523;
  return [
    ["M", x + radius, y],
    ["C", x + radius, y + pull, x + pull, y + radius, x, y + radius],
    ["C", x - pull, y + radius, x - radius, y + pull, x - radius, y],
    ["C", x - radius, y - pull, x - pull, y - radius, x, y - radius],
    ["C", x + pull, y - radius, x + radius, y - pull, x + radius, y],
    ["Z"],
  ];
}
