import { dividedBy, type Fraction, fraction, times } from "../fraction.ts";
import type { SheetYarn } from "./sheet.ts";
import { gramsPerMetre, gramsPerPound, metresPerYard, type YarnSystem } from "./yarn-number.ts";

/**
 * The number of a yarn of that thickness in another system, exactly. `grams` is the weight of one
 * metre of a single. Direct systems grow with it, indirect ones shrink (ISO 1144, ASTM D2260).
 */
export function numberIn(grams: Fraction, system: YarnSystem): Fraction {
  const one = gramsPerMetre({ system, thousandths: 1_000, plies: 1 });
  return isDirect(system) ? dividedBy(grams, one) : dividedBy(one, grams);
}

const isDirect = (system: YarnSystem): boolean =>
  system === "tex" || system === "dtex" || system === "denier";

/** Yards in a pound and metres in a kilogram of a yarn whose metre weighs `grams`. */
export const yardsInPound = (grams: Fraction): Fraction =>
  dividedBy(gramsPerPound, times(grams, metresPerYard));
export const metresInKilogram = (grams: Fraction): Fraction => dividedBy(fraction(1_000), grams);

/**
 * Weight of one metre of a sheet's yarn: by the length off its cone when that was typed, else by
 * its number. Null for what is only weighed, such as rag strips.
 */
export function metreWeight({ yardage, number }: SheetYarn): Fraction | null {
  if (yardage) return gramsPerMetre({ ...typedSystem(yardage), plies: 1 });
  return number && gramsPerMetre(number);
}

/** Rag strips and the like have no length of their own: they are weighed. */
export const isOnlyWeighed = ({ yardage, number }: SheetYarn): boolean => !yardage && !number;

const typedSystem = ({ unit, thousandths }: NonNullable<SheetYarn["yardage"]>) => ({
  system: unit === "yd/lb" ? ("yards-per-pound" as const) : ("metres-per-kilogram" as const),
  thousandths,
});

/**
 * The length in a weight as typed and as the number says, in yards per pound, when the typed one is
 * more than a tenth off; else null. A slip of a system or of a ply shows here.
 */
export function yardageMismatch(yarn: SheetYarn): { typed: Fraction; nominal: Fraction } | null {
  if (!yarn.yardage || !yarn.number) return null;
  const typed = yardsInPound(metreWeight(yarn)!);
  const nominal = yardsInPound(gramsPerMetre(yarn.number));
  const share = dividedBy(typed, nominal);
  const tenths = share.top * 10n;
  const off = tenths < share.bottom * 9n || tenths > share.bottom * 11n;
  return off ? { typed, nominal } : null;
}
