import { toPoints } from "./lengths.ts";
import type { Cell } from "./stock.ts";

/** The measures of a tag, in points, for one height of label. */
export interface TagDesign {
  /** Low labels set the words beside price and bars, taller ones above them. */
  arrangement: "beside" | "above";
  barHeight: number;
  /** From the bars' lower edge to the top of the digits under them. */
  numberGap: number;
  numberSize: number;
  priceSize: number;
  footSize: number;
  /** Body sizes to try, largest first, down to the smallest letters allowed. */
  bodySizes: readonly number[];
}

const low: TagDesign = {
  arrangement: "beside",
  barHeight: toPoints(8.6),
  numberGap: toPoints(0.9),
  numberSize: 8,
  priceSize: 17,
  footSize: 6,
  bodySizes: [7.5, 7, 6.5, 6],
};

const middle: TagDesign = {
  arrangement: "above",
  barHeight: toPoints(9),
  numberGap: toPoints(1),
  numberSize: 9,
  priceSize: 22,
  footSize: 6.5,
  bodySizes: [8.5, 8, 7.5, 7, 6.5, 6],
};

const tall: TagDesign = {
  arrangement: "above",
  barHeight: toPoints(14),
  numberGap: toPoints(1.2),
  numberSize: 11,
  priceSize: 32,
  footSize: 8,
  bodySizes: [13, 12, 11, 10, 9, 8, 7, 6],
};

/** By the label's height in millimetres. */
export function designFor(cell: Cell): TagDesign {
  if (cell.height < 30) return low;
  return cell.height < 45 ? middle : tall;
}
