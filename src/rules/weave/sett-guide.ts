import { type Fraction, fraction, times } from "../fraction.ts";

/**
 * How much of the diameter rule a yarn takes: threads that lie side by side in an inch are so many
 * times the square root of its yards in a pound. 0.9 for firm yarn, 0.84 for lofty woollen, as
 * Ashenhurst's rule is printed in a nineteenth-century textbook.
 */
const factors = { firm: fraction(9, 10), lofty: fraction(84, 100) } as const;

/** Of the threads side by side, those that have room beside the crossings of a repeat: R / (R + I). */
const weaves = { plain: fraction(1, 2), twill: fraction(2, 3) } as const;

/** Ordinary cloth is set at about four fifths of the most that fits. */
const working = fraction(4, 5);

export interface SettGuide {
  /** Threads side by side in an inch, in thousandths. */
  sideBySide: number;
  /** The most ends in an inch that fit, and what ordinary cloth takes of it; in thousandths. */
  plain: { most: number; ordinary: number };
  twill: { most: number; ordinary: number };
}

/**
 * Ashenhurst's guide to a sett in ends per inch, from yards per pound: a place to begin a sample
 * from. It takes the same yarn both ways and a square cloth. A root is seldom exact, so figures
 * are whole thousandths, each rounded down. Plain weave 2 ends to 2 crossings, 2/2 twill 4 to 2.
 */
export function settGuide(yardsPerPound: Fraction, yarn: keyof typeof factors): SettGuide {
  const rooted = rootOf(times(yardsPerPound, times(factors[yarn], factors[yarn])));
  const part = (...shares: Fraction[]) => {
    const { top, bottom } = shares.reduce(times, fraction(rooted, 1_000));
    return Number(top / bottom);
  };
  const both = (weave: Fraction) => ({ most: part(weave), ordinary: part(weave, working) });
  return { sideBySide: part(), plain: both(weaves.plain), twill: both(weaves.twill) };
}

/** The square root in millionths, rounded down: whole numbers all the way. */
function rootOf({ top, bottom }: Fraction): bigint {
  const square = (top * 10n ** 12n) / bottom;
  if (square < 2n) return square;
  let guess = 1n << BigInt(Math.ceil(square.toString(2).length / 2));
  for (;;) {
    const next = (guess + square / guess) / 2n;
    if (next >= guess) return guess;
    guess = next;
  }
}
