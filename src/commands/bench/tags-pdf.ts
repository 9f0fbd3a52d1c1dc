import { performance } from "node:perf_hooks";
import { closeDocument, openDocument } from "../../printing/document.ts";
import { fontFiles, measuringFaces } from "../../printing/fonts.ts";
import type { Bars, Ink, Weave } from "../../printing/ink.ts";
import { drawMarks } from "../../printing/labels/marks.ts";
import { setTag } from "../../printing/labels/set-tag.ts";
import { toPoints } from "../../printing/lengths.ts";
import { cells, stocks } from "../../printing/stock.ts";
import { printTags } from "../../printing/tags.ts";
import type { LabelContent } from "../../rules/labels/label-content.ts";

const STOCK = stocks["letter-30"];
const ROUNDS = 5;
const GUILD = "Guild of the Long Shed";
const FACTS = { title: "Tags", author: GUILD, createdAt: new Date(0) };

/** One drawing call of the bare loop. */
type Call = (document: PDFKit.PDFDocument) => void;

/**
 * Tags to PDF against a bare pdfkit loop that draws the very same strings, bars and borders at the
 * same places but measures, breaks and shortens nothing. Both are run once to warm up and then in
 * turn; the figures are medians in milliseconds. A ratio of 1 means we cost no more than the bare
 * loop, above 1 we are faster.
 */
export async function benchTags(
  count: number,
): Promise<{ ours: number; bare: number; ratio: number }> {
  const tags = Array.from({ length: count }, (_, index) => sampleTag(index));
  const sheets = record(tags);
  const printOurs = () =>
    printTags(tags, {
      stock: "letter-30",
      startAt: 1,
      guildName: GUILD,
      saleName: "Bench",
      createdAt: FACTS.createdAt,
    });
  const printBare = () => replay(sheets);
  await printOurs();
  await printBare();
  const ours: number[] = [];
  const bare: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    ours.push(await milliseconds(printOurs));
    bare.push(await milliseconds(printBare));
  }
  const result = { ours: median(ours), bare: median(bare) };
  return { ...result, ratio: result.bare / result.ours };
}

async function milliseconds(work: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

const median = (values: number[]): number =>
  [...values].sort((one, other) => one - other)[Math.floor(values.length / 2)]!;

const kinds = ["Scarf in broken twill", "Tea towel, huck lace", "Runner with inlay", "Plaid throw"];
const fibres = ["100 % linen", "70 % wool, 30 % silk", "55 % cotton, 45 % hemp"];

/** Every tag differs in number and price, as on a real sale. */
function sampleTag(index: number): LabelContent {
  const tag = String(10_000_000 + index * 97);
  return {
    tag,
    shownTag: `${tag.slice(0, 3)}-${tag.slice(3, 6)}-${tag.slice(6)}`,
    title: `${kinds[index % kinds.length]}, warp ${index % 90}`,
    size: `${30 + (index % 40)} × ${120 + (index % 60)} cm`,
    fibreLines: [fibres[index % fibres.length]!],
    careLines: ["Hand wash cold, dry flat"],
    cautionLines: [],
    price: `$${10 + (index % 400)}.00`,
    memberNumber: tag.slice(0, 3),
    code: "bars",
  };
}

/** What our layout draws, as plain pdfkit calls, one list per sheet. */
function record(tags: LabelContent[]): Call[][] {
  const faces = measuringFaces();
  const places = cells(STOCK);
  const sheets: Call[][] = [];
  for (let start = 0; start < tags.length; start += places.length) {
    const calls: Call[] = [];
    const ink = recorder(calls);
    places.slice(0, tags.length - start).forEach((place, index) => {
      const [laid] = setTag(faces, tags[start + index]!, STOCK, GUILD).laid?.() ?? [];
      ink.origin(toPoints(place.x), toPoints(place.y));
      drawMarks(ink, faces, laid?.marks ?? []);
    });
    sheets.push(calls);
  }
  return sheets;
}

function recorder(calls: Call[]): Ink {
  let [left, top] = [0, 0];
  const notOnThese = () => {
    throw new Error("These tags have words, bars and a border only.");
  };
  return {
    origin: (x, y) => {
      [left, top] = [x, y];
    },
    text: (face, size, x, baseline, text) => {
      const options = { lineBreak: false, baseline: "alphabetic" } as const;
      const [at, on] = [x + left, baseline + top];
      calls.push((document) => {
        document.font(fontFiles[face.name]).fontSize(size).text(text, at, on, options);
      });
    },
    bars: (bars) => {
      const moved = { ...bars, x: bars.x + left, y: bars.y + top };
      calls.push((document) => fillBars(document, moved));
    },
    weave: (weave) => {
      const moved = { ...weave, x: weave.x + left, y: weave.y + top };
      calls.push((document) => strokeWeave(document, moved));
    },
    rule: notOnThese,
    squares: notOnThese,
    path: notOnThese,
    color: notOnThese,
  };
}

function fillBars(document: PDFKit.PDFDocument, { x, y, height, module, widths }: Bars): void {
  let left = x;
  for (let index = 0; index < widths.length; index += 1) {
    const width = widths[index]! * module;
    if (index % 2 === 0) document.rect(left, y, width, height);
    left += width;
  }
  document.fill();
}

/** The border of a tag, which runs downwards. */
function strokeWeave(document: PDFKit.PDFDocument, { x, y, length, thread }: Weave): void {
  document.lineWidth(thread);
  for (const pick of [0, 1]) {
    const middle = x + (pick + 0.5) * thread;
    document.dash(thread, { space: thread, phase: pick * thread });
    document
      .moveTo(middle, y)
      .lineTo(middle, y + length)
      .stroke();
  }
}

function replay(sheets: Call[][]): Promise<Uint8Array> {
  const document = openDocument(FACTS);
  const size: [number, number] = [
    toPoints(STOCK.media.paper.width),
    toPoints(STOCK.media.paper.height),
  ];
  for (const calls of sheets) {
    document.addPage({ size, margin: 0 });
    for (const call of calls) call(document);
  }
  return closeDocument(document);
}
