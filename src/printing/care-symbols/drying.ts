import type { SymbolSet } from "../../rules/labels/pack.ts";
import { circle, type Path, type Segment } from "../shapes.ts";
import { cross, disc, dots, stroke, through } from "./strokes.ts";

const square: Segment[] = [...through(3, 3, 21, 3, 21, 21, 3, 21), ["Z"]];
const drum: Segment[] = [...square, ...circle(12, 12, 8)];

const tumble: Record<SymbolSet, Record<string, Path[]>> = {
  iso: {
    "tumble-low": dots(1, 12, 12),
    "tumble-medium": dots(2, 12, 12),
    "tumble-none": [cross()],
  },
  astm: {
    "tumble-low": dots(1, 12, 12),
    "tumble-medium": dots(2, 12, 12),
    "tumble-high": dots(3, 12, 12),
    "tumble-any": [],
    "tumble-air": [disc(12, 12, 8)],
    "tumble-none": [cross()],
  },
};

/** Drying without a machine: strokes inside the square, which differ between the standards. */
const hung: Record<SymbolSet, Record<string, Segment[]>> = {
  iso: {
    line: through(12, 6.5, 12, 17.5),
    drip: [...through(9.5, 6.5, 9.5, 17.5), ...through(14.5, 6.5, 14.5, 17.5)],
    flat: through(6.5, 12, 17.5, 12),
    "drip-flat": [...through(6.5, 10, 17.5, 10), ...through(6.5, 14.5, 17.5, 14.5)],
  },
  astm: {
    line: [
      ["M", 3, 3],
      ["C", 6.5, 11.5, 17.5, 11.5, 21, 3],
    ],
    drip: [
      ...through(7.5, 6.5, 7.5, 17.5),
      ...through(12, 6.5, 12, 17.5),
      ...through(16.5, 6.5, 16.5, 17.5),
    ],
    flat: through(6.5, 12, 17.5, 12),
  },
};

/** Out of the sun: one stroke across the upper left corner, in the ASTM set two. */
const shade: Record<SymbolSet, Segment[]> = {
  iso: through(3, 8.5, 8.5, 3),
  astm: [...through(3, 7, 7, 3), ...through(3, 10.5, 10.5, 3)],
};

/** `dry:tumble-low` and its like, or `dry:line`, `drip`, `flat` with or without `-shade`. */
export function dry(set: SymbolSet, value: string): Path[] | undefined {
  const inDrum = tumble[set][value];
  if (inDrum !== undefined) return [stroke(...drum), ...inDrum];
  const [, way = "", shaded] = /^(.+?)(-shade)?$/.exec(value) ?? [];
  const strokes = hung[set][way];
  if (strokes === undefined) return undefined;
  return [stroke(...square, ...strokes, ...(shaded === undefined ? [] : shade[set]))];
}

export const dryValues = (set: SymbolSet): string[] => [
  ...Object.keys(tumble[set]),
  ...Object.keys(hung[set]).flatMap((way) => [way, `${way}-shade`]),
];
