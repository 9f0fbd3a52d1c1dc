import type { SymbolSet } from "../../rules/labels/pack.ts";
import type { Path, Segment } from "../shapes.ts";
import { sign } from "./signs.ts";
import { bars, cross, dots, stroke, through } from "./strokes.ts";

/** ASTM D5489 tells the water's heat by dots instead of degrees Celsius. */
const heats: Record<string, number> = { 30: 1, 40: 2, 50: 3, 60: 4, 70: 5, 95: 6 };

const sides = through(2, 7, 5, 20, 19, 20, 22, 7);

/** Three waves between the rims. */
const water: Segment[] = [
  ["M", 2.5, 9],
  ["C", 4.4, 7.4, 6.4, 7.4, 8.6, 9],
  ["C", 10.8, 10.6, 13.2, 10.6, 15.4, 9],
  ["C", 17.6, 7.4, 19.6, 7.4, 21.5, 9],
];

/** A hand that reaches down into the water from the upper right. */
const hand: Segment[] = [
  ["M", 22.6, 2],
  ["L", 16.2, 5.2],
  ["C", 12.6, 7.6, 9.6, 11, 6.9, 14.2],
  ["C", 6.2, 15.4, 7.4, 16.4, 8.5, 15.5],
  ["L", 12.2, 12.2],
  ["L", 11.2, 15.6],
  ["C", 11.2, 17, 12.9, 17.2, 13.5, 15.9],
  ["L", 16.2, 10.6],
  ["C", 18, 9, 20.5, 8.2, 22.6, 7.4],
];

const shortWater: Segment[] = [
  ["M", 2.5, 9],
  ["C", 4, 7.6, 6, 7.6, 8, 9],
];

/** `wash:machine-40`, with `-gentle` or `-very-gentle` after it, `wash:hand` or `wash:none`. */
export function wash(set: SymbolSet, value: string): Path[] | undefined {
  const tub = stroke(...sides, ...water);
  if (value === "none") return [tub, cross()];
  if (value === "hand") return [stroke(...sides, ...shortWater, ...hand)];
  const [, degrees = "", care = ""] = /^machine-(\d\d)(|-gentle|-very-gentle)$/.exec(value) ?? [];
  const heat = heats[degrees];
  if (heat === undefined) return undefined;
  const gentle = bars(["", "-gentle", "-very-gentle"].indexOf(care));
  if (set === "iso") return [tub, ...sign(degrees, 12, 11.2, 0.91), ...gentle];
  return [tub, ...heatDots(heat), ...gentle];
}

/** One to three dots in one row, four to six in two. */
function heatDots(count: number): Path[] {
  if (count <= 3) return dots(count, 12, 15);
  const upper = Math.ceil(count / 2);
  return [...dots(upper, 12, 13), ...dots(count - upper, 12, 17)];
}

/** `bleach:any`, `bleach:non-chlorine` or `bleach:none`: a triangle. */
export function bleach(_set: SymbolSet, value: string): Path[] | undefined {
  const triangle: Segment[] = [...through(12, 3, 22, 20, 2, 20), ["Z"]];
  if (value === "any") return [stroke(...triangle)];
  if (value === "none") return [stroke(...triangle), cross()];
  if (value !== "non-chlorine") return undefined;
  return [stroke(...triangle, ...through(8.2, 20, 14.6, 9.2), ...through(13.4, 20, 17.1, 13.6))];
}
