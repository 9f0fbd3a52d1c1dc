import type { SymbolSet } from "../../rules/labels/pack.ts";
import type { Ink } from "../ink.ts";
import type { Path } from "../shapes.ts";
import { dry, dryValues } from "./drying.ts";
import { iron, professional } from "./pressing.ts";
import { place } from "./strokes.ts";
import { bleach, wash } from "./washing.ts";

/** Forms of ASTM D5489 (United States) or of ISO 3758 (elsewhere). */

/** Each part of a code's name, in the order in which both standards set the five symbols. */
const axes = { wash, bleach, dry, iron, professional };
type Axis = keyof typeof axes;
const order = Object.keys(axes) as Axis[];

const axisOf = (code: string): Axis | undefined =>
  order.find((axis) => code.startsWith(`${axis}:`));

/** The codes as they have to stand: wash, bleach, dry, iron, professional care. */
export const inStandardOrder = (codes: readonly string[]): string[] =>
  order.flatMap((axis) => codes.filter((code) => axisOf(code) === axis));

/** Whether the set has a symbol for this code, such as "wash:machine-40-gentle". */
export const isSymbol = (set: SymbolSet, code: string): boolean => pathsOf(set, code) !== undefined;

const drawn = new Map<string, Path[] | undefined>();

function pathsOf(set: SymbolSet, code: string): Path[] | undefined {
  const key = `${set} ${code}`;
  const known = drawn.get(key);
  if (known !== undefined) return known;
  const axis = axisOf(code);
  if (axis === undefined) return undefined;
  const paths = axes[axis](set, code.slice(axis.length + 1));
  // Only real symbols are remembered, so that the memory stays as small as the two sets.
  if (paths !== undefined) drawn.set(key, paths);
  return paths;
}

/**
 * The lines of one symbol with its upper left corner at x, y, in points; `size` is its width. Bars
 * below it take a further eighth of the size. It throws for a code that the set does not have.
 */
export function symbolPaths(
  set: SymbolSet,
  code: string,
  x: number,
  y: number,
  size: number,
): Path[] {
  const paths = pathsOf(set, code);
  if (paths === undefined) throw new RangeError(`The ${set} set has no care symbol "${code}".`);
  return place(paths, x, y, size);
}

export function drawSymbol(
  ink: Ink,
  set: SymbolSet,
  code: string,
  x: number,
  y: number,
  size: number,
): void {
  for (const path of symbolPaths(set, code, x, y, size)) ink.path(path);
}

const gentleness = ["", "-gentle", "-very-gentle"];
const each = (axis: Axis, values: string[]): string[] => values.map((value) => `${axis}:${value}`);

/** Every code of a set, in standard order. */
export const allSymbols = (set: SymbolSet): string[] => [
  ...each("wash", ["30", "40", "50", "60", "70", "95"].flatMap(machine)),
  ...each("wash", ["hand", "none"]),
  ...each("bleach", ["any", "non-chlorine", "none"]),
  ...each("dry", dryValues(set)),
  ...each("iron", ["1", "2", "3", "any", "1-no-steam", "2-no-steam", "3-no-steam", "none"]),
  ...each("professional", ["P", "F", "W"].flatMap(solvent)),
  ...each("professional", ["none"]),
];

const machine = (heat: string): string[] => gentleness.map((care) => `machine-${heat}${care}`);
const solvent = (letter: string): string[] => gentleness.map((care) => `${letter}${care}`);
