import type { Ink } from "../ink.ts";
import { toPoints } from "../lengths.ts";
import { circle, type Segment } from "../shapes.ts";
import { type Cell, cells, paperOf, type Stock } from "../stock-shape.ts";

const HAIR = 0.35;
/** Cutting marks keep this far from the labels and are so long, in millimetres. */
const MARK = { gap: 0.6, length: 3 };

/** Fine marks in the margins of sheets that are cut by hand, and a ring where to punch. */
export function drawGuides(ink: Ink, stock: Stock): void {
  if (stock.guides !== true) return;
  const places = cells(stock);
  ink.origin(0, 0);
  ink.path({ segments: cuttingMarks(stock, places), paint: { stroke: HAIR } });
  const { hole } = stock;
  if (hole === undefined) return;
  for (const { x, y } of places) {
    const ring = circle(toPoints(x + hole.x), toPoints(y + hole.y), toPoints(hole.diameter / 2));
    ink.path({ segments: ring, paint: { stroke: HAIR } });
  }
}

function cuttingMarks(stock: Stock, places: readonly Cell[]): Segment[] {
  const paper = paperOf(stock);
  const left = Math.min(...places.map(({ x }) => x)) - MARK.gap;
  const top = Math.min(...places.map(({ y }) => y)) - MARK.gap;
  const right = Math.max(...places.map(({ x, width }) => x + width)) + MARK.gap;
  const bottom = Math.max(...places.map(({ y, height }) => y + height)) + MARK.gap;
  const edges = (from: number[], to: number[]) => [...new Set([...from, ...to].map(hundredths))];
  const line = (x1: number, y1: number, x2: number, y2: number): Segment[] => [
    ["M", toPoints(x1), toPoints(y1)],
    ["L", toPoints(x2), toPoints(y2)],
  ];
  const across = edges(
    places.map(({ x }) => x),
    places.map(({ x, width }) => x + width),
  );
  const down = edges(
    places.map(({ y }) => y),
    places.map(({ y, height }) => y + height),
  );
  return [
    ...across.flatMap((x) => [
      ...line(x, Math.max(0, top - MARK.length), x, top),
      ...line(x, bottom, x, Math.min(paper.height, bottom + MARK.length)),
    ]),
    ...down.flatMap((y) => [
      ...line(Math.max(0, left - MARK.length), y, left, y),
      ...line(right, y, Math.min(paper.width, right + MARK.length), y),
    ]),
  ];
}

/** Neighbouring edges that meet give one mark. */
const hundredths = (value: number): number => Math.floor(value * 100 + 0.5) / 100;
