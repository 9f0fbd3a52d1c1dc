import type { CareSymbols } from "../../rules/labels/label-content.ts";
import { barWidths } from "../bar-code.ts";
import { symbolPaths } from "../care-symbols/symbols.ts";
import { ASCENT, CAPITAL_HEIGHT, type Faces, type FontName } from "../fonts.ts";
import { SMALLEST_TEXT } from "../lengths.ts";
import { qrRows } from "../qr-code.ts";
import type { Box } from "../stock-shape.ts";
import { fittingSize, keepLines, wrapEvenly } from "../text-fit.ts";
import { type Body, LEADING, SYMBOL_HEIGHT } from "./body.ts";
import type { PlainContent } from "./content.ts";
import type { Frame, TagDesign } from "./design.ts";
import type { Mark } from "./marks.ts";
import type { Align, Ledge, Zones } from "./zones.ts";

/** Everything on one tag. */
export function tagMarks(
  faces: Faces,
  content: PlainContent,
  { design }: Frame,
  zones: Zones,
  body: Body,
  guildName: string,
): Mark[] {
  const { member, shownTag, symbols } = content;
  const { footSize, numberSize } = design;
  const guild = namedInWords(content, design, guildName) ? "" : guildName;
  return [
    { kind: "weave", weave: zones.weave },
    ...codeMarks(content, zones),
    ...wholeLine(faces, shownTag, zones.number, numberSize),
    ...priceMarks(faces, content, zones, design),
    ...smallLines(faces, { face: "bold", size: footSize, text: member }, zones.member, 1),
    ...guildLines(faces, { face: "regular", size: footSize, text: guild }, zones.guild),
    ...bodyMarks(faces, body, bodyBox(zones, body), zones.body.align, symbols),
  ];
}

/** Where the guild answers for the piece its name is among the words; only a heading repeats it. */
const namedInWords = (
  { identity }: PlainContent,
  { arrangement }: TagDesign,
  guildName: string,
): boolean =>
  arrangement !== "stacked" && (identity === guildName || identity.startsWith(`${guildName},`));

/** A left price stands on its line; a centred one floats in its place and is never higher. */
function priceMarks(
  faces: Faces,
  { price: text }: PlainContent,
  { price }: Zones,
  { priceSize }: TagDesign,
): Mark[] {
  if (price.align === "left")
    return wholeLine(faces, text, { ...price, baseline: price.bottom }, priceSize);
  const highest = Math.max(SMALLEST_TEXT, (price.bottom - price.top) / CAPITAL_HEIGHT);
  const largest = Math.min(priceSize, Math.floor(highest * 4) / 4);
  const size = fittingSize(faces.bold, text, price.right - price.left, largest);
  const baseline = (price.top + price.bottom + CAPITAL_HEIGHT * size) / 2;
  return wholeLine(faces, text, { ...price, baseline }, largest);
}

/** A figure that is never cut, as large as its line allows. */
function wholeLine(faces: Faces, text: string, ledge: Ledge, largest: number): Mark[] {
  if (text === "") return [];
  const size = fittingSize(faces.bold, text, ledge.right - ledge.left, largest);
  return [textMark(faces, { face: "bold", size, text }, ledge, ledge.baseline, ledge.align)];
}

/** Small lines; what has no room ends with an ellipsis. */
function smallLines(faces: Faces, { face, size, text }: Letters, ledge: Ledge, most: number) {
  const width = ledge.right - ledge.left;
  const all = wrapEvenly(faces[face], text, size, width);
  return keepLines(faces[face], all, size, width, most)
    .filter((line) => line !== "")
    .map((line, index) => {
      const baseline = ledge.baseline + index * LEADING * size;
      return textMark(faces, { face, size, text: line }, ledge, baseline, ledge.align);
    });
}

/** The guild's name is left out rather than cut: a name that ends in dots is nobody's name. */
function guildLines(faces: Faces, letters: Letters, ledge: Zones["guild"]): Mark[] {
  const room = ledge.right - ledge.left;
  const face = faces[letters.face];
  const lines = wrapEvenly(face, letters.text, letters.size, room);
  const whole = lines.length <= ledge.most && lines.join(" ") === letters.text;
  return whole ? smallLines(faces, letters, ledge, ledge.most) : [];
}

/** In a column of its own the body stands in the middle of its place, elsewhere at the top. */
function bodyBox({ body: box }: Zones, { height }: Body): Box {
  const spare = box.align === "centre" ? Math.max(0, box.bottom - box.top - height) / 2 : 0;
  return { ...box, top: box.top + spare };
}

interface Letters {
  face: FontName;
  size: number;
  text: string;
}

/** One line of text between two edges. */
export function textMark(
  faces: Faces,
  { face, size, text }: Letters,
  { left, right }: { left: number; right: number },
  baseline: number,
  align: Align,
): Mark {
  const spare = right - left - faces[face].width(text, size);
  const x = align === "left" ? left : align === "right" ? left + spare : left + spare / 2;
  return { kind: "text", face, size, x, baseline, text };
}

function codeMarks({ tag }: PlainContent, { bars, squares }: Zones): Mark[] {
  const marks: Mark[] = [];
  if (bars !== undefined) marks.push({ kind: "bars", bars: { ...bars, widths: barWidths(tag) } });
  if (squares !== undefined) {
    marks.push({ kind: "squares", squares: { ...squares, rows: qrRows(tag) } });
  }
  return marks;
}

/** The words of a body and, among them, its care symbols. */
export function bodyMarks(
  faces: Faces,
  body: Body,
  box: Box,
  align: Align,
  symbols: CareSymbols | undefined,
): Mark[] {
  const marks = body.lines.map((line) =>
    textMark(faces, line, box, box.top + line.top + ASCENT * line.size, align),
  );
  if (body.symbols === undefined || symbols === undefined) return marks;
  const { size, inRow, top } = body.symbols;
  symbols.codes.forEach((code, index) => {
    const row = Math.floor(index / inRow);
    const inThisRow = Math.min(inRow, symbols.codes.length - row * inRow);
    const spare = box.right - box.left - inThisRow * size;
    const x = box.left + (align === "centre" ? spare / 2 : 0) + (index % inRow) * size;
    const y = box.top + top + row * size * SYMBOL_HEIGHT;
    for (const path of symbolPaths(symbols.set, code, x, y, size))
      marks.push({ kind: "path", path });
  });
  return marks;
}
