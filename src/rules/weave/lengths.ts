import {
  dividedBy,
  type Fraction,
  fraction,
  minus,
  nearestWhole,
  plus,
  sumOf,
  times,
} from "../fraction.ts";
import { inBase } from "./measure.ts";
import type { Share, SheetRun, WarpSheet } from "./sheet.ts";

/** What is left of a measure after a share of it is lost. Shares are of the starting measure. */
export const leftOf = (share: Share): Fraction => fraction(100_000 - share, 100_000);

/** What a measure grows to with a share more of it. */
export const withMore = (share: Share): Fraction => fraction(100_000 + share, 100_000);

/** Take-up and then washing: what of a length on the loom is there in the end. */
const remains = ({ takeUp, shrinkage }: WarpSheet): Fraction =>
  times(leftOf(takeUp), leftOf(shrinkage));

const two = fraction(2);

/**
 * Metres on the loom for one piece, without fringe. A finished length is divided by what remains:
 * ten that lose a fifth leave eight, so eight ask for ten. A length on the loom holds it already.
 */
export const loomLength = (sheet: WarpSheet, run: SheetRun): Fraction =>
  run.length.measured === "loom"
    ? inBase(run.length)
    : dividedBy(plus(inBase(run.length), inBase(run.hems)), remains(sheet));

/** Metres of washed and hemmed cloth in one piece, without fringe. */
export const finishedLength = (sheet: WarpSheet, run: SheetRun): Fraction =>
  run.length.measured === "finished"
    ? inBase(run.length)
    : minus(times(inBase(run.length), remains(sheet)), inBase(run.hems));

/** Metres of washed cloth before hemming: the length that the wefts of a piece fill. */
export const washedLength = (sheet: WarpSheet, run: SheetRun): Fraction =>
  plus(finishedLength(sheet, run), inBase(run.hems));

/** Metres of warp that stay in one piece: woven, with a fringe at both ends. */
export const warpInPiece = (sheet: WarpSheet, run: SheetRun): Fraction =>
  plus(loomLength(sheet, run), times(two, inBase(run.fringe)));

/** Metres of warp: every piece with its fringes, the gaps between them, sampling and loom waste. */
export function warpLength(sheet: WarpSheet): Fraction {
  const pieces = sheet.runs.reduce((sum, { count }) => sum + count, 0);
  return sumOf([
    ...sheet.runs.map((run) => times(fraction(run.count), warpInPiece(sheet, run))),
    times(fraction(Math.max(0, pieces - 1)), inBase(sheet.gap)),
    inBase(sheet.sampling),
    inBase(sheet.loomWaste),
  ]);
}

/** Ends of each stripe. Without a stripe that takes the rest, the stripes say how many there are. */
export function endsOf({ warp, sett, width, floatingSelvedges }: WarpSheet) {
  const counted = warp.reduce((sum, { ends }) => sum + (ends ?? 0), 0);
  const rest = Number(nearestWhole(times(inBase(sett), inBase(width)))) - counted;
  const outside = warp.findIndex(({ ends }) => ends === null);
  return warp.map(({ yarn, ends }, index) => ({
    yarn,
    ends: (ends ?? rest) + (floatingSelvedges && index === Math.max(0, outside) ? 2 : 0),
  }));
}
