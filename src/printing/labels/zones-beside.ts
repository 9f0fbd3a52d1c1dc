import { CAPITAL_HEIGHT, DESCENT } from "../fonts.ts";
import { LEADING } from "./body.ts";
import type { PlainContent } from "./content.ts";
import type { Frame } from "./design.ts";
import {
  AIR,
  barPlace,
  headLine,
  memberFoot,
  numberTop,
  qrQuiet,
  qrSide,
  sideWeave,
  type Zones,
} from "./zones.ts";

/** Words on the left; guild, price, code and number above one another on the right. */
export function zonesBeside(frame: Frame, content: PlainContent, module: number): Zones {
  const { clear } = frame;
  const { weave, left } = sideWeave(frame);
  const column = columnFor(frame, content, module);
  const symbolTop = symbolEdge(frame, content);
  const withQr = content.code === "both";
  const head = withQr ? clear.right - qrSide(frame) - qrQuiet(frame) : column.right;
  const underQr = clear.top + qrSide(frame) + qrQuiet(frame);
  const capital = CAPITAL_HEIGHT * frame.design.priceSize;
  // Where the label is high enough the price stands under the QR code, over the whole column.
  const under = withQr && symbolTop - underQr >= capital + AIR;
  const step = LEADING * frame.design.footSize;
  const spare = symbolTop - clear.top - capital - 2 * AIR;
  const most = withQr || spare < 2 * step ? 1 : 2;
  const guild = { ...headLine(frame, column.left, head), most };
  const wordsEnd = column.wordsEnd - AIR;
  const { member, top } = memberFoot(frame, content, left, wordsEnd);
  return {
    weave,
    body: { left, top: clear.top, right: wordsEnd, bottom: top, align: "left" },
    ...symbols(frame, content, column, symbolTop, module),
    number: { left: column.left, right: column.right, baseline: clear.bottom, align: "centre" },
    price: {
      left: column.left,
      right: under ? column.right : head,
      top: under ? underQr : guild.baseline + (most - 1) * step + DESCENT * frame.design.footSize,
      bottom: content.code === "qr" ? symbolTop - qrQuiet(frame) : symbolTop,
      align: "centre",
    },
    member,
    guild,
  };
}

interface Column {
  left: number;
  right: number;
  /** Words on the left of the column end here. */
  wordsEnd: number;
}

/** As wide as the bars, or with a QR code alone as wide as a price needs. */
function columnFor(frame: Frame, content: PlainContent, module: number): Column {
  if (content.code === "qr") {
    const left = frame.clear.right - frame.design.qrColumn;
    return { left, right: frame.clear.right, wordsEnd: left };
  }
  const bars = barPlace(frame, content, module);
  const overhang = Math.min(frame.clear.right - bars.right, bars.quiet);
  return {
    left: bars.left - overhang,
    right: bars.right + overhang,
    wordsEnd: bars.left - bars.quiet,
  };
}

function symbolEdge(frame: Frame, { code }: PlainContent): number {
  const { design } = frame;
  const edge = numberTop(frame, frame.clear.bottom);
  if (code === "qr") return edge - qrQuiet(frame) - qrSide(frame);
  return edge - design.numberGap - design.barHeight;
}

function symbols(
  frame: Frame,
  content: PlainContent,
  column: Column,
  y: number,
  module: number,
): Pick<Zones, "bars" | "squares"> {
  const { design, clear } = frame;
  const side = qrSide(frame);
  if (content.code === "qr") {
    const x = (column.left + column.right - side) / 2;
    return { squares: { x, y, module: design.qrModule } };
  }
  const { left: x } = barPlace(frame, content, module);
  const bars = { x, y, height: design.barHeight, module };
  if (content.code === "bars") return { bars };
  return { bars, squares: { x: clear.right - side, y: clear.top, module: design.qrModule } };
}
