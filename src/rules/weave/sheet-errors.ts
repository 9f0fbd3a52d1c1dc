import { type Fraction, fraction, isLess } from "../fraction.ts";
import type { FieldError } from "../problem.ts";
import { checkSheet } from "./check-sheet.ts";
import type { WarpSheet } from "./sheet.ts";
import type { SheetOutcome } from "./sheet-outcome.ts";
import { workOutSheet } from "./work-out.ts";

/** More ends, metres, grams, coins or pieces than these are a slip of a unit and no cloth. */
const most = {
  ends: 100_000,
  metres: 100_000,
  grams: 100_000_000,
  coins: 10 ** 12,
  pieces: 10 ** 6,
};

/**
 * Everything that is wrong with a sheet. What can be worked out but comes to more than anybody
 * weaves is refused as well, so that every figure of a kept sheet is one that we can count with.
 */
export function sheetErrors(sheet: WarpSheet): FieldError[] {
  const errors = checkSheet(sheet);
  if (errors.length > 0 || !isTooMuch(workOutSheet(sheet))) return errors;
  const message =
    "This comes to far more than any loom holds. Look at the units and figures again.";
  return [{ field: "width", message }];
}

const isOver = (one: Fraction, limit: number): boolean => isLess(fraction(limit), one);

function isTooMuch({ ends, warpLength, totalGrams, needs, runs }: SheetOutcome): boolean {
  const counts = [
    ...needs.map(({ buyCones }) => buyCones),
    ...runs.flatMap(({ fromWarp, fromYarn }) => [fromWarp, fromYarn]),
  ];
  return (
    ends > most.ends ||
    isOver(warpLength, most.metres) ||
    isOver(totalGrams, most.grams) ||
    needs.some(({ cost }) => cost !== null && isOver(cost, most.coins)) ||
    counts.some((count) => count !== null && count > most.pieces)
  );
}
