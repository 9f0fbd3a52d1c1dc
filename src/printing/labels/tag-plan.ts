import { modulesFor, QUIET_MODULES } from "../bar-code.ts";
import type { Faces } from "../fonts.ts";
import { SMALLEST_TEXT } from "../lengths.ts";
import { fittingSize } from "../text-fit.ts";
import { type Body, setBody, setLargest } from "./body.ts";
import type { PlainContent } from "./content.ts";
import type { Frame } from "./design.ts";
import { type Part, type Relief, reliefs, tagBlocks } from "./passages.ts";
import type { Zones } from "./zones.ts";
import { zonesAbove } from "./zones-above.ts";
import { zonesBeside } from "./zones-beside.ts";
import { zonesStacked } from "./zones-stacked.ts";

const zonesFor = { beside: zonesBeside, above: zonesAbove, stacked: zonesStacked };

/** How one tag is set: enough to draw it without trying out again what fits. */
export interface TagPlan {
  frame: Frame;
  module: number;
  relief: Relief;
  size: number;
}

/** The part of a label's width that the bars and their quiet zones may take beside words. */
const BAR_SHARE = 0.58;
/** Narrower bars are worth it for letters that older eyes can read. */
const EASY_TEXT = 7;
/** A price set smaller than this part of its design looks like a mistake. */
const PRICE_SHARE = 0.6;

export const symbolCount = ({ symbols }: PlainContent): number => symbols?.codes.length ?? 0;

/** The module widths to try for the bars, the roomy one first; empty when no bars fit at all. */
export function barModules(frame: Frame, { tag, code }: PlainContent): number[] {
  if (code === "qr") return frame.modules.slice(0, 1);
  const modules = modulesFor(tag.length) + 2 * QUIET_MODULES;
  const fitting = frame.modules.filter((module) => module * modules <= frame.end);
  if (frame.design.arrangement === "stacked") return fitting.slice(0, 1);
  const sharing = fitting.filter((module) => module * modules <= frame.end * BAR_SHARE);
  return sharing.length > 0 ? sharing : fitting.slice(-1);
}

export const zonesOf = (frame: Frame, content: PlainContent, module: number): Zones =>
  zonesFor[frame.design.arrangement](frame, content, module);

/** Number and price are never shortened; this says which of them has no room at all. */
export function missingFigures(
  faces: Faces,
  content: PlainContent,
  { number, price }: Zones,
  { design }: Frame,
  share = 0,
): Part[] {
  const fits = (text: string, room: number, largest: number, least: number): boolean =>
    text === "" || fittingSize(faces.bold, text, room, largest) >= least;
  const missing: Part[] = [];
  const { numberSize, priceSize } = design;
  if (!fits(content.shownTag, number.right - number.left, numberSize, SMALLEST_TEXT)) {
    missing.push("number");
  }
  const least = Math.max(SMALLEST_TEXT, share * priceSize);
  if (!fits(content.price, price.right - price.left, priceSize, least)) missing.push("price");
  return missing;
}

/** Gives up as little as it can until everything fits; undefined when the rest still does not. */
export function planTag(
  faces: Faces,
  content: PlainContent,
  frames: readonly Frame[],
): TagPlan | undefined {
  const possible = frames.flatMap((frame) => placesIn(faces, content, frame));
  const good = possible.filter(({ frame, zones }) => {
    return missingFigures(faces, content, zones, frame, PRICE_SHARE).length === 0;
  });
  return planAmong(faces, content, good) ?? planAmong(faces, content, possible);
}

interface Place {
  frame: Frame;
  module: number;
  zones: Zones;
}

function planAmong(
  faces: Faces,
  content: PlainContent,
  places: readonly Place[],
): TagPlan | undefined {
  for (const relief of reliefs(content)) {
    let best: TagPlan | undefined;
    for (const { frame, module, zones } of places) {
      const body = bodyIn(faces, content, frame, zones, relief);
      if (body !== undefined && body.size > (best?.size ?? 0)) {
        best = { frame, module, relief, size: body.size };
      }
      if (best !== undefined && best.size >= EASY_TEXT) return best;
    }
    if (best !== undefined) return best;
  }
  return undefined;
}

/** Where things go with each width of bars, as far as number and price have room. */
export function placesIn(faces: Faces, content: PlainContent, frame: Frame): Place[] {
  return barModules(frame, content)
    .map((module) => ({ frame, module, zones: zonesOf(frame, content, module) }))
    .filter(({ zones }) => missingFigures(faces, content, zones, frame).length === 0);
}

function bodyIn(
  faces: Faces,
  content: PlainContent,
  { design }: Frame,
  { body }: Zones,
  relief: Relief,
): Body | undefined {
  const blocks = tagBlocks(content, relief, design);
  const room = { width: body.right - body.left, height: body.bottom - body.top };
  return setLargest(faces, blocks, symbolCount(content), room, design.bodySizes);
}

/** The zones and the body of a plan made before. */
export function carryOut(
  faces: Faces,
  content: PlainContent,
  { frame, module, relief, size }: TagPlan,
): { zones: Zones; body: Body } {
  const zones = zonesOf(frame, content, module);
  const blocks = tagBlocks(content, relief, frame.design);
  const width = zones.body.right - zones.body.left;
  return { zones, body: setBody(faces, blocks, symbolCount(content), width, size) };
}
