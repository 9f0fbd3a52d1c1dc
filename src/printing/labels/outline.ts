import { toPoints } from "../lengths.ts";
import { circle, type Segment } from "../shapes.ts";
import type { Stock } from "../stock-shape.ts";

/** How far a quarter circle's control points stand from its ends, against the radius. */
const ROUND = 0.5523;

/** The edge of one label and of its hole, in points; `height` differs on continuous rolls. */
export function outlineOf(stock: Stock, x: number, y: number, height: number): Segment[] {
  const right = x + toPoints(stock.label.width);
  const bottom = y + height;
  const radius = toPoints(stock.corner);
  const pull = radius * (1 - ROUND);
  const edge: Segment[] = [
    ["M", x + radius, y],
    ["L", right - radius, y],
    ["C", right - pull, y, right, y + pull, right, y + radius],
    ["L", right, bottom - radius],
    ["C", right, bottom - pull, right - pull, bottom, right - radius, bottom],
    ["L", x + radius, bottom],
    ["C", x + pull, bottom, x, bottom - pull, x, bottom - radius],
    ["L", x, y + radius],
    ["C", x, y + pull, x + pull, y, x + radius, y],
    ["Z"],
  ];
  const { hole } = stock;
  if (hole === undefined) return edge;
  const [holeX, holeY] = [x + toPoints(hole.x), y + toPoints(hole.y)];
  return [...edge, ...circle(holeX, holeY, toPoints(hole.diameter / 2))];
}
