import { dividedBy, type Fraction, fraction, nothing, times, wholeBelow } from "../fraction.ts";
import { loomLength, washedLength, withMore } from "./lengths.ts";
import { inBase } from "./measure.ts";
import type { SheetRun, SheetWeft, SheetYarn, WarpSheet } from "./sheet.ts";
import type { RunOutcome } from "./sheet-outcome.ts";
import { metreWeight } from "./yarn-convert.ts";

export interface Used {
  metres: Fraction;
  grams: Fraction;
}

/** An amount of a yarn by its length; what is only weighed has no length. */
export const usedMetres = (yarn: SheetYarn, metres: Fraction): Used => ({
  metres,
  grams: times(metres, metreWeight(yarn) ?? nothing),
});

/**
 * A weft over a woven length in metres: picks times the width in the reed (not of the cloth), and
 * so much more for the way it curves and turns. Rags are weighed by the area that they fill.
 */
export function weftOver(
  { yarns, width }: WarpSheet,
  weft: SheetWeft,
  { loom, washed }: { loom: Fraction; washed: Fraction },
): Used {
  const across = inBase(width);
  if (weft.by === "area")
    return { metres: nothing, grams: times(inBase(weft.weight), times(across, washed)) };
  const picks = times(inBase(weft.picks), loom);
  return usedMetres(yarns[weft.yarn]!, times(times(picks, across), withMore(weft.extra)));
}

export const weftInPiece = (sheet: WarpSheet, run: SheetRun, weft: SheetWeft): Used =>
  weftOver(sheet, weft, { loom: loomLength(sheet, run), washed: washedLength(sheet, run) });

/** What the sample takes of a weft; it is woven at the loom's own length. */
export function weftInSample(sheet: WarpSheet, weft: SheetWeft): Used {
  const sampled = inBase(sheet.sampling);
  return weftOver(sheet, weft, { loom: sampled, washed: sampled });
}

/** Metres of strip that one piece takes, and metres of cloth of its width to cut them from. */
export function stripsInPiece(sheet: WarpSheet, run: SheetRun): RunOutcome["strips"] {
  const rag = run.wefts.find((weft) => weft.by === "area" && weft.strips);
  if (rag?.by !== "area" || !rag.strips) return null;
  const { picks, extra, width, cloth } = rag.strips;
  const rows = times(inBase(picks), loomLength(sheet, run));
  const metres = times(times(rows, inBase(sheet.width)), withMore(extra));
  // A last strip that is too narrow is none.
  const across = fraction(wholeBelow(dividedBy(inBase(cloth), inBase(width))));
  return across.top === 0n ? null : { metres, clothMetres: dividedBy(metres, across) };
}
