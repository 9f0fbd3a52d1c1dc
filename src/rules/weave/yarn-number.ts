import { dividedBy, type Fraction, fraction, times } from "../fraction.ts";

/**
 * How a yarn's thickness is numbered. Direct systems weigh a length (bigger is thicker); indirect
 * ones count standard lengths in a pound or a kilogram (bigger is finer). Lengths per pound:
 * cotton 840 yd, worsted 560, woollen run 1600, woollen cut 300, linen lea 300 (ASTM D2260);
 * tex, dtex and denier: ISO 1144.
 */
const direct = { tex: 1_000, dtex: 10_000, denier: 9_000 } as const;
const yardsPerPound = {
  cotton: 840,
  worsted: 560,
  run: 1_600,
  cut: 300,
  lea: 300,
  "yards-per-pound": 1,
} as const;
const metresPerKilogram = { metric: 1_000, "metres-per-kilogram": 1 } as const;

export type YarnSystem =
  | keyof typeof direct
  | keyof typeof yardsPerPound
  | keyof typeof metresPerKilogram;

/** Every system, in the order in which a list shows them. */
export const yarnSystems = [
  "cotton",
  "worsted",
  "run",
  "cut",
  "lea",
  "metric",
  "tex",
  "dtex",
  "denier",
  "yards-per-pound",
  "metres-per-kilogram",
] as const satisfies readonly YarnSystem[];

/** "8/2 cotton" is 8000 thousandths, 2 plies, system cotton. A figure off the cone has 1 ply. */
export interface YarnNumber {
  system: YarnSystem;
  thousandths: number;
  plies: number;
}

/** The pound and the yard as fixed in 1959: 453.59237 g and 0.9144 m. */
export const gramsPerPound = fraction(45_359_237, 100_000);
export const metresPerYard = fraction(9_144, 10_000);

const isIn = <Table extends object>(table: Table, key: PropertyKey): key is keyof Table =>
  Object.hasOwn(table, key);

/** Grams in one metre of yarn, exactly; take-up in plying is ignored, as the nominal figure does. */
export function gramsPerMetre({ system, thousandths, plies }: YarnNumber): Fraction {
  const single = fraction(thousandths, 1_000);
  if (isIn(direct, system)) return times(single, fraction(plies, direct[system]));
  const lengths = dividedBy(single, fraction(plies));
  if (isIn(yardsPerPound, system))
    return dividedBy(
      gramsPerPound,
      times(times(lengths, fraction(yardsPerPound[system])), metresPerYard),
    );
  return dividedBy(fraction(1_000), times(lengths, fraction(metresPerKilogram[system])));
}
