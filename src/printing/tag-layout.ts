import type { TagLabel } from "../rules/tag-label.ts";
import { barWidths, modulesFor, moduleWidth, QUIET_MODULES } from "./bar-code.ts";
import { ASCENT, CAPITAL_HEIGHT, DESCENT, type Face, type Faces } from "./fonts.ts";
import type { Ink } from "./ink.ts";
import { SMALLEST_TEXT, toPoints } from "./lengths.ts";
import type { Cell } from "./stock.ts";
import { designFor, type TagDesign } from "./tag-design.ts";
import { LEADING, type Passage, setBody } from "./tag-text.ts";
import { keepLines, shorten, sizeFor, tidy, wrap } from "./text-fit.ts";

/** The part of a label's width that the bars and their quiet zones may take. */
const BAR_SHARE = 0.58;
const THREAD = toPoints(0.6);
const WEAVE_GAP = toPoints(1.4);
/** Clear air between the words and the price or the bars. */
const AIR = toPoints(1.5);

/** Everything the drawing of one tag needs; lengths in points. */
interface Tag {
  ink: Ink;
  faces: Faces;
  label: TagLabel;
  guildName: string;
  design: TagDesign;
  left: number;
  top: number;
  right: number;
  bottom: number;
  bars: { left: number; right: number; top: number; middle: number; module: number };
  /** Words left of the bars end here, outside the quiet zone. */
  wordsEnd: number;
}

/** Draws one tag into its cell. */
export function drawTag(
  ink: Ink,
  faces: Faces,
  label: TagLabel,
  cell: Cell,
  guildName: string,
): void {
  const tag = placeTag(ink, faces, label, cell, guildName);
  const x = toPoints(cell.clear.left);
  ink.weave({ x, y: tag.top, length: tag.bottom - tag.top, thread: THREAD, direction: "down" });
  drawNumber(tag);
  if (tag.design.arrangement === "beside") drawBeside(tag);
  else drawAbove(tag);
}

function placeTag(ink: Ink, faces: Faces, label: TagLabel, cell: Cell, guildName: string): Tag {
  const design = designFor(cell);
  const module = toPoints(moduleWidth(label.tag.length, cell.width * BAR_SHARE));
  const quiet = QUIET_MODULES * module;
  const barRight = Math.min(toPoints(cell.clear.right), toPoints(cell.x + cell.width) - quiet);
  const barLeft = barRight - modulesFor(label.tag.length) * module;
  const bottom = toPoints(cell.clear.bottom);
  const numberTop = bottom - CAPITAL_HEIGHT * design.numberSize;
  return {
    ink,
    faces,
    label,
    guildName: tidy(guildName),
    design,
    left: toPoints(cell.clear.left) + 2 * THREAD + WEAVE_GAP,
    top: toPoints(cell.clear.top),
    right: toPoints(cell.clear.right),
    bottom,
    bars: {
      left: barLeft,
      right: barRight,
      top: numberTop - design.numberGap - design.barHeight,
      middle: (barLeft + barRight) / 2,
      module,
    },
    wordsEnd: barLeft - quiet,
  };
}

/** The bars and, under them, the same number for people. Digits have no descenders. */
function drawNumber({ ink, faces, label, design, bars, bottom }: Tag): void {
  const widths = barWidths(label.tag);
  ink.bars({ x: bars.left, y: bars.top, height: design.barHeight, module: bars.module, widths });
  const room = bars.right - bars.left;
  const size = sizeFor(faces.bold, label.shownTag, room, design.numberSize, SMALLEST_TEXT);
  drawCentred(ink, faces.bold, size, bars.middle, bottom, label.shownTag);
}

function drawCentred(
  ink: Ink,
  face: Face,
  size: number,
  middle: number,
  baseline: number,
  text: string,
): void {
  if (text !== "") ink.text(face, size, middle - face.width(text, size) / 2, baseline, text);
}

/** Words on the left; guild, price, bars and number centred above one another on the right. */
function drawBeside(tag: Tag): void {
  const { ink, faces, label, design, bars } = tag;
  const room = 2 * Math.min(tag.right - bars.middle, bars.middle - tag.wordsEnd);
  const guild = shorten(faces.regular, tag.guildName, design.footSize, room);
  const guildBaseline = tag.top + ASCENT * design.footSize;
  drawCentred(ink, faces.regular, design.footSize, bars.middle, guildBaseline, guild);

  const price = tidy(label.price);
  const size = sizeFor(faces.bold, price, room, design.priceSize, SMALLEST_TEXT);
  const between = (guildBaseline + DESCENT * design.footSize + bars.top) / 2;
  drawCentred(ink, faces.bold, size, bars.middle, between + (CAPITAL_HEIGHT * size) / 2, price);

  const width = tag.wordsEnd - AIR - tag.left;
  const memberTop = drawFoot(tag, width, tag.bottom, faces.bold, [memberLine(label)]);
  drawBody(tag, width, memberTop - AIR / 2);
}

/** Words over the whole width; under them price, member and guild left of the bars. */
function drawAbove(tag: Tag): void {
  const { ink, faces, label, design } = tag;
  const width = tag.wordsEnd - tag.left;
  const wrapped = wrap(faces.regular, tag.guildName, design.footSize, width);
  const guild = keepLines(faces.regular, wrapped, design.footSize, width, 2);
  const guildTop = drawFoot(tag, width, tag.bottom, faces.regular, guild);
  const memberTop = drawFoot(tag, width, guildTop, faces.bold, [memberLine(label)]);

  const price = tidy(label.price);
  const size = sizeFor(faces.bold, price, width, design.priceSize, SMALLEST_TEXT);
  const baseline = memberTop - AIR;
  ink.text(faces.bold, size, tag.left, baseline, price);
  const lowerTop = Math.min(tag.bars.top, baseline - CAPITAL_HEIGHT * size);
  drawBody(tag, tag.right - tag.left, lowerTop - AIR);
}

const memberLine = ({ memberNumber, memberName }: TagLabel): string =>
  tidy(memberName === undefined ? `Member ${memberNumber}` : `${memberNumber} ${memberName}`);

/** Small lines that stand on `bottom`; gives the top of the first. */
function drawFoot(
  { ink, left, design }: Tag,
  width: number,
  bottom: number,
  face: Face,
  lines: string[],
): number {
  const step = LEADING * design.footSize;
  const top = bottom - lines.length * step;
  lines.forEach((line, index) => {
    const baseline = top + (index + 1) * step - DESCENT * design.footSize;
    const text = shorten(face, line, design.footSize, width);
    if (text !== "") ink.text(face, design.footSize, left, baseline, text);
  });
  return top;
}

/** The order in which passages get further lines: the fibre content first, it is the law. */
const GROWING = [2, 0, 3, 1] as const;

function drawBody({ ink, faces, label, design, left, top }: Tag, width: number, end: number): void {
  const notes = [label.size, label.quantityNote, label.setNote].map((note) => tidy(note ?? ""));
  const passages: Passage[] = [
    { face: faces.bold, text: tidy(label.description), scale: 1.15 },
    { face: faces.regular, text: notes.filter((note) => note !== "").join(" · "), scale: 1 },
    { face: faces.regular, text: tidy(label.fibreText), scale: 1 },
    { face: faces.regular, text: tidy(label.careText), scale: 1 },
  ];
  const room = { width, height: end - top };
  let y = top;
  for (const { face, size, text } of setBody(passages, room, design.bodySizes, GROWING)) {
    ink.text(face, size, left, y + ASCENT * size, text);
    y += LEADING * size;
  }
}
