import type { LabelContent } from "../../rules/labels/label-content.ts";
import type { Faces } from "../fonts.ts";
import { toPoints } from "../lengths.ts";
import type { Box, Stock } from "../stock-shape.ts";
import { type Body, setBody, setLargest } from "./body.ts";
import { type PlainContent, plainContent } from "./content.ts";
import { type Frame, framesOf } from "./design.ts";
import type { Laid, Setting } from "./laid.ts";
import type { Mark } from "./marks.ts";
import { flowOn, partsOf, shareOut } from "./overflow.ts";
import { reliefs, stripBlocks } from "./passages.ts";
import { bodyMarks } from "./tag-marks.ts";
import { symbolCount } from "./tag-plan.ts";

/** Letter sizes to try; on a ribbon that may be as long as it likes, the size stays the same. */
const SIZES = [8, 7.5, 7, 6.5, 6] as const;
const RIBBON_SIZES = [7, 6.5, 6] as const;

/** The end that disappears in the seam. Our own choice. */
const SEAM = toPoints(5);
const THREAD = toPoints(0.5);
const GAP = toPoints(1.6);

interface Strip {
  faces: Faces;
  content: PlainContent;
  box: Box;
  sizes: readonly number[];
  /** A continuous ribbon ends where its words end. */
  endless: boolean;
  height: number;
}

/** Sets one permanent care strip: a seam allowance, a woven band, the words, a woven band. */
export function setStrip(faces: Faces, label: LabelContent, stock: Stock): Setting {
  const strip = stripOn(faces, plainContent(label), stock);
  const { content, box, sizes } = strip;
  const room = { width: box.right - box.left, height: box.bottom - box.top };
  const [whole, ...less] = reliefs(content);
  for (const relief of [whole!, ...less.filter(({ dropped }) => dropped.includes("symbols"))]) {
    const blocks = stripBlocks(content, relief);
    const body = setLargest(faces, blocks, symbolCount(content), room, sizes);
    if (body === undefined) continue;
    const dropped = relief.dropped.filter((part) => part === "symbols");
    return { fits: true, dropped, textSize: body.size, laid: () => [lay(strip, body)] };
  }
  const size = sizes.at(-1)!;
  const { kept, left } = shareOut(faces, stripBlocks(content, less.at(-1)!), room, size);
  const laid = (): Laid[] => {
    const first = kept.length > 0 ? [setBody(faces, kept, 0, room.width, size)] : [];
    return [...first, ...flowOn(faces, left, room, sizes)].map((body) => lay(strip, body));
  };
  return { fits: false, missing: partsOf(left), laid };
}

function stripOn(faces: Faces, content: PlainContent, stock: Stock): Strip {
  const [{ clear, height }] = framesOf(stock) as [Frame];
  const endless = stock.media.kind === "roll" && stock.media.length === "continuous";
  return {
    faces,
    content,
    box: {
      ...clear,
      top: Math.max(SEAM, clear.top) + 2 * THREAD + GAP,
      bottom: clear.bottom - 2 * THREAD - GAP,
    },
    sizes: endless ? RIBBON_SIZES : SIZES,
    endless,
    height,
  };
}

function lay({ faces, content, box, endless, height }: Strip, body: Body): Laid {
  const under = height - box.bottom;
  const bottom = endless ? box.top + body.height : box.bottom;
  const spare = Math.max(0, bottom - box.top - body.height);
  const middle = { ...box, top: box.top + spare / 2 };
  const marks = bodyMarks(faces, body, middle, "centre", content.symbols);
  const bands = [band(box, box.top - GAP - 2 * THREAD), band(box, bottom + GAP)];
  return { marks: [...bands, ...marks], height: bottom + under };
}

const band = ({ left: x, right }: Box, y: number): Mark => ({
  kind: "weave",
  weave: { x, y, length: right - x, thread: THREAD, direction: "across" },
});
