import type { SymbolSet } from "../pack.ts";
import { type CareLevels, stepOrder } from "./levels.ts";

const washCodes: Record<CareLevels["wash"], string> = {
  none: "none",
  "hand-30": "hand",
  "very-gentle-30": "machine-30-very-gentle",
  "gentle-30": "machine-30-gentle",
  "gentle-40": "machine-40-gentle",
  "machine-40": "machine-40",
  "machine-60": "machine-60",
};

/**
 * The codes of the symbols for these levels, "wash:machine-40" and so on, in the order both
 * standards keep: wash, bleach, dry, iron, professional care. In ASTM D5489 one bar under the tub
 * means permanent press and two mean delicate, so a gentle wash has two bars there (the count of
 * bars from memory). What is not washed has no symbol for drying.
 */
export function careSymbols(levels: CareLevels, set: SymbolSet): string[] {
  return stepOrder
    .filter((step) => !(step === "dry" && levels.wash === "none"))
    .map((step) => {
      if (step !== "wash") return `${step}:${levels[step]}`;
      const code = washCodes[levels.wash];
      return `wash:${set === "astm" ? code.replace(/-(?:very-)?gentle$/, "-very-gentle") : code}`;
    });
}
