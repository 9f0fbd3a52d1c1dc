import { toPoints } from "../lengths.ts";
import { type Box, clearBeside, clearPart, type Stock } from "../stock-shape.ts";

/** The measures of a tag, in points, for one shape of label. */
export interface TagDesign {
  /**
   * Low labels set the words beside price and bars, taller ones above them; narrow ones set
   * everything in one column.
   */
  arrangement: "beside" | "above" | "stacked";
  barHeight: number;
  /** From the bars' lower edge to the top of the digits under them. */
  numberGap: number;
  numberSize: number;
  priceSize: number;
  footSize: number;
  /** Body sizes to try, largest first, down to the smallest letters allowed. */
  bodySizes: readonly number[];
  /** Space between groups of passages, against the body's size. */
  airy: number;
  /** Origin and maker on one line. */
  joined: boolean;
  /** The side of one square of a QR code, and the column it stands in when it stands alone. */
  qrModule: number;
  qrColumn: number;
}

const low: TagDesign = {
  arrangement: "beside",
  barHeight: toPoints(8.6),
  numberGap: toPoints(0.9),
  numberSize: 8,
  priceSize: 17,
  footSize: 6,
  bodySizes: [7.5, 7, 6.5, 6],
  airy: 0,
  joined: false,
  qrModule: toPoints(0.375),
  qrColumn: toPoints(23),
};

const crowded: TagDesign = {
  ...low,
  numberGap: toPoints(0.7),
  barHeight: toPoints(8.2),
  priceSize: 14,
  bodySizes: [6.5, 6],
  joined: true,
  qrColumn: toPoints(18),
};

const middle: TagDesign = {
  arrangement: "above",
  barHeight: toPoints(9),
  numberGap: toPoints(1),
  numberSize: 9,
  priceSize: 22,
  footSize: 6.5,
  bodySizes: [8.5, 8, 7.5, 7, 6.5, 6],
  airy: 0,
  joined: false,
  qrModule: toPoints(0.375),
  qrColumn: toPoints(24),
};

const tall: TagDesign = {
  arrangement: "above",
  barHeight: toPoints(12),
  numberGap: toPoints(1.2),
  numberSize: 10,
  priceSize: 30,
  footSize: 7.5,
  bodySizes: [11, 10.5, 10, 9.5, 9, 8.5, 8, 7.5, 7, 6.5, 6],
  airy: 0.3,
  joined: false,
  qrModule: toPoints(0.5),
  qrColumn: toPoints(30),
};

const narrow: TagDesign = {
  arrangement: "stacked",
  barHeight: toPoints(9.5),
  numberGap: toPoints(1),
  numberSize: 9,
  priceSize: 24,
  footSize: 6.5,
  bodySizes: [9.5, 9, 8.5, 8, 7.5, 7, 6.5, 6],
  airy: 0.45,
  joined: false,
  qrModule: toPoints(0.5),
  qrColumn: toPoints(24),
};

const slender: TagDesign = {
  ...narrow,
  barHeight: toPoints(8),
  priceSize: 18,
  bodySizes: [8, 7.5, 7, 6.5, 6],
  airy: 0.2,
  joined: true,
  qrModule: toPoints(0.375),
};

/** A label seen by its layout: sizes in points from its own top left corner. */
export interface Frame {
  /** The least distance of a label's right edge, which quiet zones may reach but not pass. */
  end: number;
  height: number;
  clear: Box;
  design: TagDesign;
  /** Thermal printers of rolls put whole dots of 203 to the inch; sheets go through finer ones. */
  modules: readonly number[];
}

/** Module widths in millimetres, the roomy one first, then the least that cheap readers read. */
const ON_SHEETS = [0.33, 0.25] as const;
const ON_ROLLS = [(3 * 25.4) / 203, (2 * 25.4) / 203] as const;

const pointsOf = (box: Box): Box => ({
  left: toPoints(box.left),
  top: toPoints(box.top),
  right: toPoints(box.right),
  bottom: toPoints(box.bottom),
});

/**
 * The label with each design it may be set in, the most generous first. The later ones have smaller
 * prices and bars, for labels whose words would otherwise be small.
 */
export function framesOf(stock: Stock): Frame[] {
  let frames = known.get(stock);
  if (frames === undefined) {
    frames = readFrames(stock);
    known.set(stock, frames);
  }
  return frames;
}

/** Every label of a batch asks for the same frames; they go when their stock goes. */
const known = new WeakMap<Stock, Frame[]>();

function readFrames(stock: Stock): Frame[] {
  const clear = clearPart(stock);
  const frame = {
    end: toPoints(clear.right + clearBeside(stock)),
    height: toPoints(stock.label.height),
    clear: pointsOf(clear),
    modules: (stock.media.kind === "roll" ? ON_ROLLS : ON_SHEETS).map(toPoints),
  };
  return designsFor(clear).map((design) => ({ ...frame, design }));
}

/**
 * By the size in millimetres of what may carry ink. Joined lines can break badly, so the last of the
 * designs has them apart again.
 */
function designsFor(clear: Box): TagDesign[] {
  const height = clear.bottom - clear.top;
  const small = [low, crowded, { ...crowded, joined: false }];
  if (height < 30) return small;
  if (clear.right - clear.left < 55) return [narrow, slender, { ...slender, joined: false }];
  return height < 41 ? [middle, ...small] : [tall, middle, ...small];
}
