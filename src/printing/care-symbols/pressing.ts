import type { SymbolSet } from "../../rules/labels/pack.ts";
import { circle, type Path, type Segment } from "../shapes.ts";
import { sign } from "./signs.ts";
import { bars, cross, dots, fine, stroke, through } from "./strokes.ts";

/** A flat sole with a sloped nose at the left and the loop of a handle on top. */
const sole: Segment[] = [
  ["M", 2, 19],
  ["C", 3.2, 13.6, 6.4, 10.2, 11, 10.2],
  ["L", 20.4, 10.2],
  ["L", 22, 19],
  ["Z"],
  ["M", 8.2, 5.4],
  ["L", 16.6, 5.4],
  ["C", 19, 5.4, 19.9, 7.4, 20.4, 10.2],
];

/** Two puffs under the iron, crossed out. */
const noSteam: Path[] = [
  fine(...through(10, 20.6, 9, 24), ...through(14, 20.6, 15, 24)),
  fine(...through(7, 20.6, 17, 24.6), ...through(17, 20.6, 7, 24.6)),
];

/** `iron:1`, `2` or `3` dots of heat, `iron:any`, each also with `-no-steam`, or `iron:none`. */
export function iron(_set: SymbolSet, value: string): Path[] | undefined {
  if (value === "none") return [stroke(...sole), cross()];
  const [, heat, steamless] = /^(1|2|3|any)(-no-steam)?$/.exec(value) ?? [];
  if (heat === undefined) return undefined;
  const count = heat === "any" ? 0 : Number(heat);
  return [stroke(...sole), ...dots(count, 12.8, 14.8), ...(steamless === undefined ? [] : noSteam)];
}

const LETTER_SCALE = 1.1;

/** `professional:P`, `F` or `W` with `-gentle` or `-very-gentle`, or `professional:none`. */
export function professional(_set: SymbolSet, value: string): Path[] | undefined {
  const ring = stroke(...circle(12, 12, 9));
  if (value === "none") return [ring, cross()];
  const [, letter, care = ""] = /^([PFW])(|-gentle|-very-gentle)$/.exec(value) ?? [];
  if (letter === undefined) return undefined;
  const gentle = bars(["", "-gentle", "-very-gentle"].indexOf(care));
  return [ring, ...sign(letter, 12, 12 - 4 * LETTER_SCALE, LETTER_SCALE), ...gentle];
}
