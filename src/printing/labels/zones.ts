import { modulesFor, QUIET_MODULES } from "../bar-code.ts";
import { ASCENT, CAPITAL_HEIGHT, DESCENT } from "../fonts.ts";
import { toPoints } from "../lengths.ts";
import { QR_MODULES, QR_QUIET } from "../qr-code.ts";
import type { Weave } from "../shapes.ts";
import type { Box } from "../stock-shape.ts";
import { LEADING } from "./body.ts";
import type { PlainContent } from "./content.ts";
import type { Frame } from "./design.ts";

export type Align = "left" | "centre" | "right";

/** One line that words stand on. */
export interface Ledge {
  left: number;
  right: number;
  baseline: number;
  align: Align;
}

/** Where everything on a tag goes, in points from the label's top left corner. */
export interface Zones {
  weave: Weave;
  body: Box & { align: Align };
  bars?: { x: number; y: number; height: number; module: number };
  squares?: { x: number; y: number; module: number };
  number: Ledge;
  price: Box & { align: Align };
  member: Ledge;
  guild: Ledge & { most: number };
}

export const THREAD = toPoints(0.6);
export const WEAVE_GAP = toPoints(1.4);
/** Clear air between the words and the price or the bars. */
export const AIR = toPoints(1.5);

/** Bars of one module width against the right edge, outside their quiet zone. */
export interface BarPlace {
  left: number;
  right: number;
  quiet: number;
  width: number;
}

export function barPlace(frame: Frame, content: PlainContent, module: number): BarPlace {
  const quiet = QUIET_MODULES * module;
  const width = modulesFor(content.tag.length) * module;
  const right = Math.min(frame.clear.right, frame.end - quiet);
  return { left: right - width, right, quiet, width };
}

export const qrSide = (frame: Frame): number => QR_MODULES * frame.design.qrModule;
export const qrQuiet = (frame: Frame): number => QR_QUIET * frame.design.qrModule;

/** Between words and the code under them: the air, or a QR code's quiet zone when that is more. */
export const airAbove = (frame: Frame, { code }: PlainContent): number =>
  code === "bars" ? AIR : Math.max(AIR, qrQuiet(frame));

/** The upper edge of a symbol that stands above the number at the foot of a label. */
export const numberTop = ({ design }: Frame, baseline: number): number =>
  baseline - CAPITAL_HEIGHT * design.numberSize;

/** A strip of plain weave down the left edge; words start at the second figure. */
export function sideWeave({ clear }: Frame): { weave: Weave; left: number } {
  const { left: x, top: y } = clear;
  const weave = { x, y, length: clear.bottom - y, thread: THREAD, direction: "down" } as const;
  return { weave, left: x + 2 * THREAD + WEAVE_GAP };
}

/** The member's line at the foot of a column of words, and where the words above it have to end. */
export function memberFoot(frame: Frame, content: PlainContent, left: number, right: number) {
  const { footSize } = frame.design;
  const { bottom } = frame.clear;
  const baseline = bottom - DESCENT * footSize;
  const top = content.member === "" ? bottom : bottom - LEADING * footSize - AIR / 2;
  return { member: { left, right, baseline, align: "left" } as const, top };
}

/** A small line at the upper edge of a label. */
export const headLine = (frame: Frame, left: number, right: number) =>
  ({
    left,
    right,
    baseline: frame.clear.top + ASCENT * frame.design.footSize,
    align: "centre",
    most: 1,
  }) as const;
