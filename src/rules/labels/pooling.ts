import { type Fraction, fraction, greatestDivisor, plus, times } from "../fraction.ts";
import { type FieldError, ok, type Result, refuse } from "../problem.ts";
import {
  gramsPerMetre,
  gramsPerPound,
  metresPerYard,
  type YarnNumber,
} from "../weave/yarn-number.ts";
import type { FibreEntry } from "./contents.ts";
import { isFibreCode } from "./fibres.ts";

/** How much of a yarn is in the finished piece; figures are thousandths of their unit. */
export type YarnAmount =
  | { unit: "g" | "oz" | "lb"; thousandths: number }
  | { unit: "m" | "yd"; thousandths: number; number: YarnNumber };

/** One fibre of a yarn, in thousandths of a percent of the yarn's weight. */
export type BlendFibre = Omit<FibreEntry, "share"> & { percent: number };

/**
 * A warp or weft yarn as it is in the piece: loom waste, samples, trimmed ends and sewing thread
 * are left out by whoever measures, since a label speaks of the finished piece only.
 */
export interface YarnUse {
  amount: YarnAmount;
  blend: readonly BlendFibre[];
}

const fewestPercent = 99_500;
const mostPercent = 100_500;

/**
 * Pools yarns by weight into the fibres of a piece, exactly: the shares are whole numbers in the
 * ratio of the weights. All fibres are taken to lose alike in finishing.
 */
export function poolYarns(yarns: readonly YarnUse[], field = "yarns"): Result<FibreEntry[]> {
  const errors = yarns.flatMap((yarn, index) => checkYarn(yarn, `${field}.${index}`));
  if (yarns.length === 0) errors.push({ field, message: "Say which yarns are in the piece." });
  if (errors.length > 0)
    return refuse("invalid-input", "The fibres could not be worked out from the yarns.", errors);

  const pooled = new Map<string, { entry: Omit<FibreEntry, "share">; grams: Fraction }>();
  for (const { amount, blend } of yarns) {
    const total = blend.reduce((sum, { percent }) => sum + percent, 0);
    for (const { percent, ...entry } of blend) {
      const grams = times(gramsOf(amount), fraction(percent, total));
      const key = JSON.stringify(Object.entries(entry).sort());
      const known = pooled.get(key);
      pooled.set(key, { entry, grams: known ? plus(known.grams, grams) : grams });
    }
  }
  return ok(inWholeNumbers([...pooled.values()]));
}

/** The weight of an amount of yarn in grams, exactly. */
export function gramsOf(amount: YarnAmount): Fraction {
  const figure = fraction(amount.thousandths, 1_000);
  if ("number" in amount) {
    const metres = amount.unit === "yd" ? times(figure, metresPerYard) : figure;
    return times(metres, gramsPerMetre(amount.number));
  }
  if (amount.unit === "lb") return times(figure, gramsPerPound);
  if (amount.unit === "oz") return times(figure, times(gramsPerPound, fraction(1, 16)));
  return figure;
}

function inWholeNumbers(
  pooled: readonly { entry: Omit<FibreEntry, "share">; grams: Fraction }[],
): FibreEntry[] {
  const bottom = pooled.reduce(
    (least, { grams }) => (least * grams.bottom) / greatestDivisor(least, grams.bottom),
    1n,
  );
  const tops = pooled.map(({ grams }) => (grams.top * bottom) / grams.bottom);
  const divisor = tops.reduce(greatestDivisor, 0n);
  return pooled.map(({ entry }, place) => ({ ...entry, share: tops[place]! / divisor }));
}

const isAmount = (figure: number) => Number.isSafeInteger(figure) && figure > 0;

function checkYarn({ amount, blend }: YarnUse, field: string): FieldError[] {
  const errors: FieldError[] = [];
  if (!isAmount(amount.thousandths))
    errors.push({ field: `${field}.amount`, message: "Type a weight or length above zero." });
  if ("number" in amount && !(isAmount(amount.number.thousandths) && isAmount(amount.number.plies)))
    errors.push({ field: `${field}.number`, message: "Type the yarn number and its plies." });
  const known = blend.every(({ fibre, percent }) => isFibreCode(fibre) && isAmount(percent));
  if (!known || blend.length === 0)
    errors.push({
      field: `${field}.blend`,
      message: "Give each fibre of the yarn its percentage.",
    });
  const total = blend.reduce((sum, { percent }) => sum + percent, 0);
  if (known && blend.length > 0 && (total < fewestPercent || total > mostPercent))
    errors.push({ field: `${field}.blend`, message: "The yarn's fibres have to make 100 %." });
  return errors;
}
