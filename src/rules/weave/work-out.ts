import {
  dividedBy,
  type Fraction,
  fraction,
  isLess,
  minus,
  nearestWhole,
  nothing,
  plus,
  sumOf,
  times,
  wholeAbove,
} from "../fraction.ts";
import { piecesFromWarp, piecesFromYarn } from "./enough-for.ts";
import { endsOf, finishedLength, leftOf, loomLength, warpInPiece, warpLength } from "./lengths.ts";
import { inBase } from "./measure.ts";
import type { SheetRun, SheetYarn, WarpSheet } from "./sheet.ts";
import type { RunOutcome, SheetOutcome, YarnInPiece, YarnNeed } from "./sheet-outcome.ts";
import { stripsInPiece, type Used, usedMetres, weftInPiece, weftInSample } from "./wefts.ts";
import { yardageMismatch } from "./yarn-convert.ts";

/**
 * Everything that a sheet comes to, exactly: metres, grams, smallest coins, minutes. The sheet is
 * one that `checkSheet` finds no fault with. Cost counts all yarn that is used up; what a piece is
 * made of counts only what stays in it.
 */
export function workOutSheet(sheet: WarpSheet): SheetOutcome {
  const stripes = endsOf(sheet);
  const length = warpLength(sheet);
  const woven = sumOf(sheet.runs.map((run) => times(fraction(run.count), loomLength(sheet, run))));
  const needs = sheet.yarns.map((_, index) => needOf(sheet, index, { stripes, length }));
  return {
    ends: stripes.reduce((sum, { ends }) => sum + ends, 0),
    ...{ stripes, warpLength: length, wovenLength: woven, needs },
    totalGrams: sumOf(needs.map(({ grams }) => grams)),
    totalCost: costOfAll(needs.filter(isUsed).map(({ cost }) => cost)),
    runs: sheet.runs.map((run) => runOutcome(sheet, run, { stripes, woven, needs })),
    mismatches: sheet.yarns.flatMap((yarn, index) => {
      const off = yardageMismatch(yarn);
      return off ? [{ yarn: index, ...off }] : [];
    }),
  };
}

type Stripes = ReturnType<typeof endsOf>;

const endsFrom = (stripes: Stripes, yarn: number): Fraction =>
  fraction(stripes.reduce((sum, one) => sum + (one.yarn === yarn ? one.ends : 0), 0));

const together = (all: readonly Used[]): Used => ({
  metres: sumOf(all.map(({ metres }) => metres)),
  grams: sumOf(all.map(({ grams }) => grams)),
});

function needOf(
  sheet: WarpSheet,
  index: number,
  { stripes, length }: { stripes: Stripes; length: Fraction },
): YarnNeed {
  const yarn = sheet.yarns[index]!;
  const warp = usedMetres(yarn, times(endsFrom(stripes, index), length));
  const woven = sheet.runs.flatMap((run) => {
    const piece = together(wefts(sheet, run, index));
    const count = fraction(run.count);
    return { metres: times(count, piece.metres), grams: times(count, piece.grams) };
  });
  const weft = together([...woven, sampleWeft(sheet, index)]);
  const grams = plus(warp.grams, weft.grams);
  const missing = minus(grams, yarn.have ? inBase(yarn.have) : nothing);
  const buyGrams = isLess(missing, nothing) ? nothing : missing;
  return {
    ...{ yarn: index, warpMetres: warp.metres, weftMetres: weft.metres },
    ...{ warpGrams: warp.grams, weftGrams: weft.grams, grams, buyGrams },
    cost: costOf(yarn, grams),
    buyCones: yarn.soldBy && Number(wholeAbove(dividedBy(buyGrams, inBase(yarn.soldBy)))),
  };
}

/** What one piece takes of a yarn as weft, one entry for each weft of it. */
const wefts = (sheet: WarpSheet, run: SheetRun, index: number): Used[] =>
  run.wefts.filter(({ yarn }) => yarn === index).map((weft) => weftInPiece(sheet, run, weft));

function sampleWeft(sheet: WarpSheet, index: number): Used {
  const run = sheet.sampleRun === null ? undefined : sheet.runs[sheet.sampleRun];
  const of = (run?.wefts ?? []).filter(({ yarn }) => yarn === index);
  return together(of.map((weft) => weftInSample(sheet, weft)));
}

const costOf = ({ price }: SheetYarn, grams: Fraction): Fraction | null =>
  price && times(dividedBy(grams, inBase(price.per)), fraction(price.amount));

const costOfAll = (costs: readonly (Fraction | null)[]): Fraction | null =>
  costs.every((cost) => cost !== null) ? sumOf(costs) : null;

const isUsed = ({ grams }: YarnNeed): boolean => grams.top > 0n;

interface Whole {
  stripes: Stripes;
  woven: Fraction;
  needs: readonly YarnNeed[];
}

function runOutcome(sheet: WarpSheet, run: SheetRun, whole: Whole): RunOutcome {
  const loom = loomLength(sheet, run);
  const finished = finishedLength(sheet, run);
  const widthOffLoom = times(inBase(sheet.width), leftOf(sheet.drawIn));
  const finishedWidth = times(widthOffLoom, leftOf(sheet.widthShrinkage));
  const yarns = yarnsInPiece(sheet, run, whole.stripes);
  const inCloth = sumOf(yarns.map(({ grams }) => grams));
  const first = run.wefts[0];
  const rows = first?.by === "picks" ? first.picks : first?.strips?.picks;
  return {
    loomLength: loom,
    picks: rows ? Number(nearestWhole(times(inBase(rows), loom))) : 0,
    finishedLength: finished,
    ...{ widthOffLoom, finishedWidth, yarns, grams: inCloth },
    gramsPerSquareMetre: dividedBy(inCloth, times(finished, finishedWidth)),
    strips: stripsInPiece(sheet, run),
    share: dividedBy(loom, whole.woven),
    making: makingOf(sheet, run, whole),
    fromWarp: piecesFromWarp(sheet, run),
    fromYarn: piecesFromYarn(sheet, run),
  };
}

/** What stays in one piece. A yarn that is in the warp or the weft more than once stands there once. */
function yarnsInPiece(sheet: WarpSheet, run: SheetRun, stripes: Stripes): YarnInPiece[] {
  const length = warpInPiece(sheet, run);
  return sheet.yarns.flatMap((yarn, index) => {
    const warp = usedMetres(yarn, times(endsFrom(stripes, index), length));
    const weft = together(wefts(sheet, run, index));
    return [
      { yarn: index, place: "warp" as const, ...warp },
      { yarn: index, place: "weft" as const, ...weft },
    ].filter(({ grams }) => grams.top > 0n);
  });
}

/**
 * What one piece takes its maker: its own weft whole, and its share of what all pieces use up
 * together, which is the warp with its waste and the weft of the sample.
 */
function makingOf(sheet: WarpSheet, run: SheetRun, { woven, needs }: Whole): RunOutcome["making"] {
  const share = dividedBy(loomLength(sheet, run), woven);
  const costs = sheet.yarns.map((yarn, index) => {
    const shared = plus(needs[index]!.warpGrams, sampleWeft(sheet, index).grams);
    const own = together(wefts(sheet, run, index)).grams;
    const grams = plus(own, times(share, shared));
    return grams.top === 0n ? nothing : costOf(yarn, grams);
  });
  const pieces = sheet.runs.reduce((sum, { count }) => sum + count, 0);
  const setUpShare = sheet.setUpBy === "length" ? share : fraction(1, pieces);
  return {
    name: run.name,
    pieces: run.count,
    materials: sumOf(costs.filter((cost) => cost !== null)),
    pricesKnown: costs.every((cost) => cost !== null),
    setUpMinutes: times(setUpShare, fraction(sheet.setUp)),
    weavingMinutes: fraction(run.weaving),
    finishingMinutes: fraction(run.finishing),
  };
}
