import { fraction, nearestWhole, times } from "../fraction.ts";
import type { LabelYarn } from "../labels/details.ts";
import type { WarpSheet } from "./sheet.ts";
import type { RunOutcome } from "./sheet-outcome.ts";

/**
 * What one piece is made of, as its label wants it: weights in thousandths of a gram. A trace that
 * weighs less than half a thousandth is none.
 */
export const labelYarnsOf = ({ yarns }: WarpSheet, { yarns: inPiece }: RunOutcome): LabelYarn[] =>
  inPiece
    .map(({ yarn, place, grams }): LabelYarn => {
      const thousandths = Number(nearestWhole(times(grams, fraction(1_000))));
      const { blend } = yarns[yarn]!;
      return { place, amount: { unit: "g", thousandths }, number: null, blend };
    })
    .filter(({ amount }) => amount.thousandths > 0);
