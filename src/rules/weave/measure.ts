import { type Fraction, fraction, times } from "../fraction.ts";
import { readTypedNumber } from "../typed-number.ts";
import { gramsPerPound, metresPerYard } from "./yarn-number.ts";

/** Lengths, as metres. The inch is 0.0254 m and the yard 0.9144 m by definition (1959). */
const metres = {
  in: fraction(254, 10_000),
  cm: fraction(1, 100),
  ft: fraction(3_048, 10_000),
  yd: metresPerYard,
  m: fraction(1),
} as const;

/** Weights, as grams. The avoirdupois pound is 453.59237 g by definition (1959). */
const grams = {
  oz: times(gramsPerPound, fraction(1, 16)),
  lb: gramsPerPound,
  g: fraction(1),
  kg: fraction(1_000),
} as const;

/** Threads side by side (or picks one after the other), as threads in a metre. */
const perMetre = {
  "per-in": fraction(10_000, 254),
  "per-cm": fraction(100),
} as const;

/** Weight of an area of cloth, as grams in a square metre. */
const gramsPerSquareMetre = {
  "oz/sqft": times(grams.oz, fraction(100_000_000, 3_048 * 3_048)),
  "oz/sqyd": times(grams.oz, fraction(100_000_000, 9_144 * 9_144)),
  "g/sqm": fraction(1),
} as const;

const sizes = { ...metres, ...grams, ...perMetre, ...gramsPerSquareMetre };

export type LengthUnit = keyof typeof metres;
export type WeightUnit = keyof typeof grams;
export type DensityUnit = keyof typeof perMetre;
export type AreaWeightUnit = keyof typeof gramsPerSquareMetre;
export type Unit = keyof typeof sizes;

/** The units of each sort, in the order in which a list shows them. */
export const lengthUnits = ["in", "cm", "ft", "yd", "m"] as const satisfies LengthUnit[];
export const weightUnits = ["oz", "lb", "g", "kg"] as const satisfies WeightUnit[];
export const densityUnits = ["per-in", "per-cm"] as const satisfies DensityUnit[];
export const areaWeightUnits = ["oz/sqft", "oz/sqyd", "g/sqm"] as const satisfies AreaWeightUnit[];

/** What was typed, in the unit it was typed in: "8.5 in" is 8500 thousandths. Never converted. */
export interface Measure<U extends Unit = Unit> {
  thousandths: number;
  unit: U;
}

export type Length = Measure<LengthUnit>;
export type Weight = Measure<WeightUnit>;
export type Density = Measure<DensityUnit>;
export type AreaWeight = Measure<AreaWeightUnit>;

/** The measure in metres, grams, threads in a metre or grams in a square metre, exactly. */
export const inBase = ({ thousandths, unit }: Measure): Fraction =>
  times(fraction(thousandths, 1_000), sizes[unit]);

/** An exact figure in base units as so many of a unit, exactly. */
export const inUnit = (base: Fraction, unit: Unit): Fraction => {
  const { top, bottom } = sizes[unit];
  return times(base, fraction(bottom, top));
};

/** Rounds half away from zero to `decimals` places: the only rounding, and only to be shown. */
export function decimalText({ top, bottom }: Fraction, decimals: number): string {
  const scaled = (top < 0n ? -top : top) * 10n ** BigInt(decimals);
  const digits = ((scaled * 2n + bottom) / (bottom * 2n)).toString().padStart(decimals + 1, "0");
  const sign = top < 0n && /[1-9]/.test(digits) ? "-" : "";
  if (decimals === 0) return sign + digits;
  return `${sign}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}

/** A measure as the field of a form shows it in `unit`: at most three decimals, no idle zeros. */
export const fieldText = <U extends Unit>(measure: Measure<U>, unit: U): string =>
  decimalText(inUnit(inBase(measure), unit), 3).replace(/\.?0+$/, "");

/**
 * Reads a field that was shown in `unit`. A field that still says what `before` was shown as keeps
 * `before` itself, so that looking at a sheet in other units never changes a figure. Undefined for
 * what is no figure of at most three decimals.
 */
export function readMeasure<U extends Unit>(
  text: string,
  unit: U,
  before?: Measure<U> | null,
): Measure<U> | undefined {
  if (before && text.trim() === fieldText(before, unit)) return before;
  const typed = readTypedNumber(text, 3);
  if (typeof typed === "string" || typed.negative) return undefined;
  if (typed.fraction.length > 3 || typed.whole.length > 6) return undefined;
  return { thousandths: Number(typed.whole + typed.fraction.padEnd(3, "0")), unit };
}
