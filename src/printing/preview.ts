import type { LabelContent } from "../rules/labels/label-content.ts";
import type { Purpose } from "./fit-label.ts";
import { measuringFaces } from "./fonts.ts";
import { drawMarks } from "./labels/marks.ts";
import { outlineOf } from "./labels/outline.ts";
import { setStrip } from "./labels/set-strip.ts";
import { setTag } from "./labels/set-tag.ts";
import { escapeMarkup, SvgInk } from "./labels/svg-ink.ts";
import { MILLIMETRE, toPoints } from "./lengths.ts";
import { HAIRLINE } from "./look.ts";
import { figure } from "./shapes.ts";
import { type Stock, type StockName, stockOf } from "./stock.ts";
import { tidy } from "./text-fit.ts";

export interface PreviewOptions {
  guildName: string;
  /** For stock that takes both; else the stock decides. */
  purpose?: Purpose;
}

const BLACK = [0, 0, 0] as const;
/** Between a label and the further one that takes what has no room on it. */
const GAP = toPoints(3);
const EDGE = 0.5;

/**
 * One label as an SVG picture of its true size, drawn from the very marks that go on paper. What
 * has no room follows on further labels below; a label that cannot print at all shows empty.
 */
export function svgOf(
  label: LabelContent,
  chosen: StockName | Stock,
  options: PreviewOptions,
): string {
  const stock = stockOf(chosen);
  const faces = measuringFaces();
  const strip = (options.purpose ?? stock.purpose) === "care-strip";
  const setting = strip
    ? setStrip(faces, label, stock)
    : setTag(faces, label, stock, options.guildName);
  const labels = setting.laid?.() ?? [{ marks: [], height: toPoints(stock.label.height) }];
  const ink = new SvgInk();
  let top = 0;
  for (const { marks, height } of labels) {
    ink.origin(0, top);
    ink.color(HAIRLINE);
    ink.path({ segments: outlineOf(stock, 0, 0, height), paint: { stroke: EDGE } });
    ink.color(BLACK);
    drawMarks(ink, faces, marks);
    top += height + GAP;
  }
  const size = { width: toPoints(stock.label.width), height: top - GAP };
  return picture(ink, size, `Label ${tidy(label.shownTag)}`);
}

/** White paper under the drawing; the outline may stand out by half its own thickness. */
function picture(ink: SvgInk, size: { width: number; height: number }, title: string): string {
  const [width, height] = [figure(size.width), figure(size.height)];
  const shown = (length: number): string => `${figure(length / MILLIMETRE)}mm`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" overflow="visible"`,
    ` width="${shown(width)}" height="${shown(height)}" viewBox="0 0 ${width} ${height}">`,
    `<title>${escapeMarkup(title)}</title>`,
    `<rect width="${width}" height="${height}" fill="#fff"/>`,
    ink.markup,
    "</svg>",
  ].join("");
}
