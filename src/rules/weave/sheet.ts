import type { Fibre } from "../fibre.ts";
import type { Minor } from "../money.ts";
import type { AreaWeight, Density, Length, Weight } from "./measure.ts";
import type { YarnNumber } from "./yarn-number.ts";

/** A share in thousandths of a percent: 12.5 % is 12500. */
export type Share = number;

/** A yarn of the sheet; warp and wefts name it by its place in the list. */
export interface SheetYarn {
  name: string;
  number: YarnNumber | null;
  /** Off the cone's label. It wins over the number, which counts only the nominal length. */
  yardage: { unit: "yd/lb" | "m/kg"; thousandths: number } | null;
  blend: Fibre[];
  /** In the guild's smallest coins for that much of it; null when nobody has said. */
  price: { amount: Minor; per: Weight } | null;
  /** What lies on the shelf; null when nobody has said. */
  have: Weight | null;
  /** How it is sold, so that the list of what to buy can count whole cones or skeins. */
  soldBy: Weight | null;
}

/** So many ends of a yarn; null for the rest of them. At most one stripe has the rest. */
export interface WarpStripe {
  yarn: number;
  ends: number | null;
}

/** A weft counted in picks, or rag strips weighed by the area of cloth that they fill. */
export type SheetWeft =
  | { by: "picks"; yarn: number; picks: Density; extra: Share }
  | { by: "area"; yarn: number; weight: AreaWeight; strips?: RagStrips | undefined };

/** How rag strips are cut: so wide, along cloth of that width, and beaten in so many picks. */
export interface RagStrips {
  picks: Density;
  extra: Share;
  width: Length;
  cloth: Length;
}

/** Pieces alike, woven one after the other. */
export interface SheetRun {
  name: string;
  count: number;
  /**
   * "loom" is measured on the loom under tension and holds take-up, shrinkage and hems already;
   * "finished" is washed and hemmed, so the rest is worked out: both divide, they do not add.
   */
  length: Length & { measured: "loom" | "finished" };
  /** Both hems together, measured after washing. */
  hems: Length;
  /** The fringe at one end; a piece has two. */
  fringe: Length;
  wefts: SheetWeft[];
  /** Minutes for one piece: throwing the shuttle, and all that comes after. */
  weaving: number;
  finishing: number;
  /** The code of the kind of goods, for price help and entering; empty when not chosen. */
  kind: string;
}

/** What a weaver plans for one warp. Nothing here is rounded; all figures are as they were typed. */
export interface WarpSheet {
  units: "inch" | "metric";
  yarns: SheetYarn[];
  warp: WarpStripe[];
  sett: Density;
  width: Length;
  /** Two more ends outside the pattern. */
  floatingSelvedges: boolean;
  runs: SheetRun[];
  /** Of the length on the loom, as it relaxes; and of what is left, in the wash. */
  takeUp: Share;
  shrinkage: Share;
  /** Of the width in the reed, and of what is left, in the wash. */
  drawIn: Share;
  widthShrinkage: Share;
  /** Between two pieces, for the knife or for knots. */
  gap: Length;
  sampling: Length;
  /** The run whose wefts the sample is woven with; null when its weft is not counted. */
  sampleRun: number | null;
  loomWaste: Length;
  /** Minutes to set up the loom for all of them, and how the pieces share them. */
  setUp: number;
  setUpBy: "length" | "count";
  /** A warp of this length is on hand already; null when not. */
  haveWarp: Length | null;
  notes: string;
}
