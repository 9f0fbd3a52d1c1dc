import type { Fraction } from "../fraction.ts";
import type { MakingCost } from "../price/making-cost.ts";

/** Exact lengths in metres, weights in grams, money in smallest coins. */
export interface YarnNeed {
  yarn: number;
  warpMetres: Fraction;
  weftMetres: Fraction;
  warpGrams: Fraction;
  weftGrams: Fraction;
  grams: Fraction;
  /** Null when the yarn has no price. */
  cost: Fraction | null;
  /** Needed beyond what is on the shelf, and in whole cones when it says how it is sold. */
  buyGrams: Fraction;
  buyCones: number | null;
}

/** One yarn within one finished piece: no sample, waste or gap in it. */
export interface YarnInPiece {
  yarn: number;
  place: "warp" | "weft";
  metres: Fraction;
  grams: Fraction;
}

export interface RunOutcome {
  /** Of one piece, on the loom, without fringe. */
  loomLength: Fraction;
  picks: number;
  finishedLength: Fraction;
  widthOffLoom: Fraction;
  finishedWidth: Fraction;
  /** Weight of one piece before washing, and in grams for a square metre of finished cloth. */
  grams: Fraction;
  gramsPerSquareMetre: Fraction;
  yarns: YarnInPiece[];
  /** What one piece takes in rag strips, and in cloth to cut them from; null without such. */
  strips: { metres: Fraction; clothMetres: Fraction } | null;
  /** Of the woven length of all pieces, that of one piece. */
  share: Fraction;
  making: MakingCost;
  /** How many such pieces the warp on hand, and the yarn on hand, are enough for. */
  fromWarp: number | null;
  fromYarn: number | null;
}

export interface SheetOutcome {
  ends: number;
  stripes: { yarn: number; ends: number }[];
  warpLength: Fraction;
  wovenLength: Fraction;
  needs: YarnNeed[];
  totalGrams: Fraction;
  /** Null when a yarn has no price. */
  totalCost: Fraction | null;
  runs: RunOutcome[];
  /** Yarns whose typed length is more than a tenth off what their number says, with both. */
  mismatches: { yarn: number; typed: Fraction; nominal: Fraction }[];
}
