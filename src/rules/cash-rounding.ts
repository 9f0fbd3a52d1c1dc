import { assertMinor, type Minor } from "./money.ts";

export const cashSteps = [1, 5, 10, 50, 100] as const;

/**
 * How cash is rounded: to which smallest coin that is in use, in smallest units of the currency
 * (1 is not at all), and which way an exact half goes. Only an even step has an exact half.
 */
export interface CashRounding {
  step: (typeof cashSteps)[number];
  fives: "up" | "down";
}

export const exactCash: CashRounding = { step: 1, fives: "up" };

/**
 * Cash that is due, to the nearest step: `due` is what changes hands and `rounding` what that is
 * more (or less) than the exact amount. Money that goes back (below zero) is rounded by its size,
 * so that a refund mirrors its sale. Rounded is the cash alone, after tax: never a price, a tax,
 * or what is paid another way. Throws for an unsafe amount.
 *
 * Sources: Canada, Budget 2012 annex; Sweden, Act 1970:1029 section 2; Norway, regulation 294 of
 * 2011; Alabama, Act 2026-548; Texas Comptroller. In New Zealand a five goes the way the shop
 * chose (its trade body advised down; read in a secondary source).
 */
export function roundCash(
  due: Minor,
  { step, fives }: CashRounding,
): { due: Minor; rounding: Minor } {
  const size = Math.abs(assertMinor(due));
  const over = size % step;
  const up = 2 * over === step ? fives === "up" : 2 * over > step;
  const change = up ? step - over : 0 - over;
  const rounded = assertMinor(size + change);
  return due < 0 ? { due: 0 - rounded, rounding: 0 - change } : { due: rounded, rounding: change };
}
