import { fraction } from "../../../src/rules/fraction.ts";
import type { CardFeePolicy } from "../../../src/rules/policy/card-fee.ts";
import type { Cuts } from "../../../src/rules/price/cuts.ts";
import type { PieceParts } from "../../../src/rules/price/piece-cost.ts";

/** A piece that takes nothing, with what a test says it takes. */
export const partsOf = (more: Partial<PieceParts> = {}): PieceParts => ({
  ...{ materials: fraction(0), notions: 0, overhead: 0, overheadRate: 0 },
  ...{ entryFee: fraction(0), minutes: fraction(0), wage: 0, sellOfTen: 10 },
  ...more,
});

/** So many percent for the guild, and no card fee unless told otherwise. */
export const cutsOf = (percent: number, card: Partial<CardFeePolicy> = {}): Cuts => ({
  rate: percent * 1_000,
  card: { way: "guild", rate: 0, fixed: 0, ...card },
  tax: 0,
});

/** Prices in whole units of a currency with two digits. */
export const wholeUnits = { step: 100, most: 999_999_900 };
