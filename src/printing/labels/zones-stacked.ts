import { CAPITAL_HEIGHT, DESCENT } from "../fonts.ts";
import { toPoints } from "../lengths.ts";
import { LEADING } from "./body.ts";
import type { PlainContent } from "./content.ts";
import type { Frame } from "./design.ts";
import {
  AIR,
  airAbove,
  barPlace,
  headLine,
  numberTop,
  qrQuiet,
  qrSide,
  THREAD,
  type Zones,
} from "./zones.ts";

const HEAD_GAP = toPoints(1);
/** A dollar sign reaches a little below the line. */
const PRICE_GAP = toPoints(2.4);
/** The comma of a large price and the digits under it must not touch. */
const FIGURE_GAP = toPoints(1.2);

/** Everything in one column: guild, woven band, words, price, code, number, member. */
export function zonesStacked(frame: Frame, content: PlainContent, module: number): Zones {
  const { clear, design } = frame;
  const { left, right } = clear;
  const guild = headLine(frame, left, right);
  const y = guild.baseline + DESCENT * design.footSize + HEAD_GAP;
  const memberTop = content.member === "" ? clear.bottom : clear.bottom - LEADING * design.footSize;
  const foot = content.code === "qr" ? footWithQr : footWithBars;
  const { top, ...symbols } = foot(frame, content, module, memberTop);
  return {
    weave: { x: left, y, length: right - left, thread: THREAD, direction: "across" },
    body: {
      left,
      right,
      top: y + 2 * THREAD + AIR,
      bottom: top - airAbove(frame, content),
      align: "centre",
    },
    ...symbols,
    member: {
      left,
      right,
      baseline: clear.bottom - DESCENT * design.footSize,
      align: "centre",
    },
    guild,
  };
}

type Foot = Pick<Zones, "bars" | "squares" | "number" | "price"> & { top: number };

/** Bars over the width with the price above them; a QR code goes to the right of the price. */
function footWithBars(frame: Frame, content: PlainContent, module: number, bottom: number): Foot {
  const { clear, design } = frame;
  const { left, right } = clear;
  const baseline = content.member === "" ? bottom : bottom - HEAD_GAP / 2;
  const y = numberTop(frame, baseline) - design.numberGap - design.barHeight;
  const { width } = barPlace(frame, content, module);
  const bars = { x: (left + right - width) / 2, y, height: design.barHeight, module };
  const number = { left, right, baseline, align: "centre" } as const;
  const capital = content.price === "" ? 0 : CAPITAL_HEIGHT * design.priceSize;
  if (content.code === "bars") {
    const price = {
      left,
      right,
      top: y - PRICE_GAP - capital,
      bottom: y - PRICE_GAP,
      align: "centre",
    } as const;
    return { bars, number, price, top: price.top };
  }
  const [side, quiet] = [qrSide(frame), qrQuiet(frame)];
  const under = y - Math.max(AIR, quiet);
  const top = under - side;
  return {
    bars,
    squares: { x: right - side, y: top, module: design.qrModule },
    number,
    price: { left, right: right - side - quiet, top, bottom: under, align: "centre" },
    top,
  };
}

/** A QR code on the left, price and number beside it. */
function footWithQr(frame: Frame, content: PlainContent, _module: number, bottom: number): Foot {
  const { clear, design } = frame;
  const [side, quiet] = [qrSide(frame), qrQuiet(frame)];
  const under = content.member === "" ? bottom : bottom - quiet;
  const y = under - side;
  const left = clear.left + side + quiet;
  return {
    squares: { x: clear.left, y, module: design.qrModule },
    number: { left, right: clear.right, baseline: under, align: "centre" },
    price: {
      left,
      right: clear.right,
      top: y,
      bottom: numberTop(frame, under) - FIGURE_GAP,
      align: "centre",
    },
    top: y,
  };
}
