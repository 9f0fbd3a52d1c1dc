import { CAPITAL_HEIGHT, DESCENT } from "../fonts.ts";
import { LEADING } from "./body.ts";
import type { PlainContent } from "./content.ts";
import type { Frame } from "./design.ts";
import {
  AIR,
  airAbove,
  barPlace,
  numberTop,
  qrQuiet,
  qrSide,
  sideWeave,
  type Zones,
} from "./zones.ts";

/** The guild's name may take so many lines under the price. */
const GUILD_LINES = 2;

/** Words over the whole width; under them price, member and guild left of the code. */
export function zonesAbove(frame: Frame, content: PlainContent, module: number): Zones {
  const { clear, design } = frame;
  const { weave, left } = sideWeave(frame);
  const { wordsEnd, top, ...symbols } = corner(frame, content, module);
  const step = LEADING * design.footSize;
  const guildTop = clear.bottom - GUILD_LINES * step;
  const memberTop = content.member === "" ? guildTop : guildTop - step;
  const priceBottom = memberTop - AIR;
  const priceTop =
    content.price === "" ? priceBottom : priceBottom - CAPITAL_HEIGHT * design.priceSize;
  return {
    weave,
    body: {
      left,
      top: clear.top,
      right: clear.right,
      bottom: Math.min(top, priceTop) - airAbove(frame, content),
      align: "left",
    },
    ...symbols,
    price: { left, right: wordsEnd, top: priceTop, bottom: priceBottom, align: "left" },
    member: {
      left,
      right: wordsEnd,
      baseline: guildTop - DESCENT * design.footSize,
      align: "left",
    },
    guild: {
      left,
      right: wordsEnd,
      baseline: guildTop + step - DESCENT * design.footSize,
      align: "left",
      most: GUILD_LINES,
    },
  };
}

type Corner = Pick<Zones, "bars" | "squares" | "number"> & { wordsEnd: number; top: number };

/** The lower right corner: bars, a QR code or both, and the number under them. */
function corner(frame: Frame, content: PlainContent, module: number): Corner {
  const { clear, design } = frame;
  const [side, quiet] = [qrSide(frame), qrQuiet(frame)];
  const edge = numberTop(frame, clear.bottom);
  if (content.code === "qr") {
    const left = clear.right - design.qrColumn;
    const y = edge - quiet - side;
    return {
      squares: { x: clear.right - side, y, module: design.qrModule },
      number: { left, right: clear.right, baseline: clear.bottom, align: "right" },
      wordsEnd: left - AIR,
      top: y,
    };
  }
  const place = barPlace(frame, content, module);
  const both = content.code === "both";
  const shift = both ? place.right - (clear.right - side - Math.max(quiet, place.quiet)) : 0;
  const [left, right] = [place.left - shift, place.right - shift];
  const y = edge - design.numberGap - design.barHeight;
  const squares = { x: clear.right - side, y: clear.bottom - side, module: design.qrModule };
  return {
    bars: { x: left, y, height: design.barHeight, module },
    ...(both ? { squares } : {}),
    number: { left, right, baseline: clear.bottom, align: "centre" },
    wordsEnd: left - place.quiet,
    top: both ? Math.min(y, squares.y) : y,
  };
}
