import { circle, type Path, type Segment } from "../shapes.ts";

/**
 * Care symbols are drawn from the standards' descriptions on a grid of 24 by 24 units, never from
 * their pictures. Bars stand below the grid, so the whole takes up to 26 units of height.
 */
export const GRID = 24;
const LINE = 1.5;
const FINE = 1.25;

/** A line through the points given as x, y, x, y … */
export function through(...figures: number[]): Segment[] {
  const segments: Segment[] = [];
  for (let index = 0; index + 1 < figures.length; index += 2) {
    segments.push([index === 0 ? "M" : "L", figures[index]!, figures[index + 1]!]);
  }
  return segments;
}

export const stroke = (...segments: Segment[]): Path => ({ segments, paint: { stroke: LINE } });
export const fine = (...segments: Segment[]): Path => ({ segments, paint: { stroke: FINE } });
export const disc = (x: number, y: number, radius: number): Path => ({
  segments: circle(x, y, radius),
  paint: "fill",
});

/** Two straight diagonals over the whole symbol: do not do this. */
export const cross = (): Path => stroke(...through(2, 2, 22, 22), ...through(22, 2, 2, 22));

/** One bar means gentle, two very gentle. */
export const bars = (count: number): Path[] =>
  Array.from({ length: count }, (_, index) => {
    const y = 22.6 + 2.2 * index;
    return stroke(...through(5, y, 19, y));
  });

/** Up to three dots in a row, their middles on the given height. */
export const dots = (count: number, x: number, y: number, step = 3.6): Path[] =>
  Array.from({ length: count }, (_, index) => disc(x + (index - (count - 1) / 2) * step, y, 1.25));

/** The paths on the page: moved to a place in points and made so large. */
export function place(paths: readonly Path[], x: number, y: number, size: number): Path[] {
  const unit = size / GRID;
  return paths.map(({ segments, paint }) => ({
    segments: segments.map((segment) => placeSegment(segment, x, y, unit)),
    paint: paint === "fill" ? paint : { stroke: paint.stroke * unit },
  }));
}

function placeSegment(segment: Segment, x: number, y: number, unit: number): Segment {
  switch (segment[0]) {
    case "M":
    case "L":
      return [segment[0], x + segment[1] * unit, y + segment[2] * unit];
    case "C": {
      const [, x1, y1, x2, y2, endX, endY] = segment;
      return [
        "C",
        x + x1 * unit,
        y + y1 * unit,
        x + x2 * unit,
        y + y2 * unit,
        x + endX * unit,
        y + endY * unit,
      ];
    }
    case "Z":
      return segment;
  }
}
