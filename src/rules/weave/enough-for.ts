import {
  dividedBy,
  type Fraction,
  fraction,
  minus,
  plus,
  sumOf,
  times,
  wholeBelow,
} from "../fraction.ts";
import { endsOf, warpInPiece } from "./lengths.ts";
import { inBase } from "./measure.ts";
import type { SheetRun, WarpSheet } from "./sheet.ts";
import { usedMetres, weftInPiece, weftInSample } from "./wefts.ts";

/** So much once, and so much more for every piece: pieces = (have - once) / each, rounded down. */
const fits = (have: Fraction, { once, each }: { once: Fraction; each: Fraction }): number =>
  each.top === 0n ? 0 : Math.max(0, Number(wholeBelow(dividedBy(minus(have, once), each))));

/** Metres of warp: the gap stands between pieces, so there is one less of them. */
const warpFor = (sheet: WarpSheet, run: SheetRun) => ({
  once: minus(plus(inBase(sheet.sampling), inBase(sheet.loomWaste)), inBase(sheet.gap)),
  each: plus(warpInPiece(sheet, run), inBase(sheet.gap)),
});

/** How many pieces of a run alone a warp on hand is long enough for; null when none is on hand. */
export const piecesFromWarp = (sheet: WarpSheet, run: SheetRun): number | null =>
  sheet.haveWarp && fits(inBase(sheet.haveWarp), warpFor(sheet, run));

/**
 * How many pieces of a run alone the yarn on the shelf is enough for: the yarn that ends first
 * decides. Null when nothing is known to lie on the shelf of any yarn that the run uses.
 */
export function piecesFromYarn(sheet: WarpSheet, run: SheetRun): number | null {
  const warp = warpFor(sheet, run);
  const stripes = endsOf(sheet);
  const counts = sheet.yarns.flatMap((yarn, index) => {
    const wefts = run.wefts.filter((weft) => weft.yarn === index);
    const ends = stripes.reduce((sum, one) => sum + (one.yarn === index ? one.ends : 0), 0);
    if (!yarn.have || (ends === 0 && wefts.length === 0)) return [];
    const warpGrams = (metres: Fraction) => usedMetres(yarn, times(fraction(ends), metres)).grams;
    const sample = sheet.sampleRun === null ? [] : wefts;
    return fits(inBase(yarn.have), {
      once: sumOf([warpGrams(warp.once), ...sample.map((weft) => weftInSample(sheet, weft).grams)]),
      each: sumOf([
        warpGrams(warp.each),
        ...wefts.map((weft) => weftInPiece(sheet, run, weft).grams),
      ]),
    });
  });
  return counts.length === 0 ? null : Math.min(...counts);
}
