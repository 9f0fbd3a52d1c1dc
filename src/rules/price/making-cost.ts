import type { Fraction } from "../fraction.ts";

/** What one piece (or one set) takes its maker, exactly: smallest coins and minutes. */
export interface MakingCost {
  name: string;
  /** How many like it there are. */
  pieces: number;
  /** All the yarn that it uses up, with its share of sample and waste. */
  materials: Fraction;
  /** False when a yarn has no price, so that `materials` is too low. */
  pricesKnown: boolean;
  setUpMinutes: Fraction;
  weavingMinutes: Fraction;
  finishingMinutes: Fraction;
}
