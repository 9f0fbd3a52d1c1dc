import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import * as pdfjs from "pdfjs-dist/legacy/build/pdf.mjs";
import { prepareZXingModule, readBarcodes } from "zxing-wasm/reader";

/** Reads back what was printed, with programs that share nothing with the printing. */

const MILLIMETRES_PER_POINT = 25.4 / 72;

const { resolve } = createRequire(import.meta.url);
/** The reader draws only on the canvas it brings itself; another copy's shapes are refused. */
const { createCanvas } = createRequire(resolve("pdfjs-dist/legacy/build/pdf.mjs"))(
  "@napi-rs/canvas",
) as typeof import("@napi-rs/canvas");

export interface PrintedText {
  text: string;
  /** Left end of the baseline and the width, in millimetres from the top left corner. */
  x: number;
  baseline: number;
  width: number;
  /** Letter size in points. */
  size: number;
}

export interface PrintedBox {
  x: number;
  y: number;
  width: number;
  height: number;
}

export type PrintedPage = pdfjs.PDFPageProxy;

export async function openPdf(bytes: Uint8Array): Promise<pdfjs.PDFDocumentProxy> {
  // The reader takes the array over, so it gets a copy and the caller keeps its bytes.
  return pdfjs.getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
}

export async function pagesOf(bytes: Uint8Array): Promise<PrintedPage[]> {
  const document = await openPdf(bytes);
  const numbers = Array.from({ length: document.numPages }, (_, index) => index + 1);
  return Promise.all(numbers.map((number) => document.getPage(number)));
}

export async function textsOf(page: PrintedPage): Promise<PrintedText[]> {
  const height = page.view[3]!;
  const { items } = await page.getTextContent();
  return items.flatMap((item) => {
    if (!("str" in item) || item.str.trim() === "") return [];
    const [, , , size, x, y] = item.transform as number[];
    return {
      text: item.str,
      x: x! * MILLIMETRES_PER_POINT,
      baseline: (height - y!) * MILLIMETRES_PER_POINT,
      width: item.width * MILLIMETRES_PER_POINT,
      size: size!,
    };
  });
}

/** The texts of a page in drawing order, joined by single spaces. */
export const wordsOf = async (page: PrintedPage): Promise<string> =>
  (await textsOf(page)).map(({ text }) => text).join(" ");

type Matrix = readonly [number, number, number, number, number, number];

const times = ([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix => [
  a * g + c * h,
  b * g + d * h,
  a * i + c * j,
  b * i + d * j,
  a * k + c * l + e,
  b * k + d * l + f,
];

/** Hands over every path of a page with the way it is painted and where it is placed. */
async function eachPath(
  page: PrintedPage,
  tell: (painted: number, path: Float32Array, matrix: Matrix) => void,
): Promise<void> {
  const { fnArray, argsArray } = await page.getOperatorList();
  const { OPS } = pdfjs;
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  const kept: Matrix[] = [];
  fnArray.forEach((operator, index) => {
    if (operator === OPS.save) kept.push(matrix);
    else if (operator === OPS.restore) matrix = kept.pop()!;
    else if (operator === OPS.transform) matrix = times(matrix, argsArray[index] as Matrix);
    else if (operator === OPS.constructPath) {
      const [painted, [path]] = argsArray[index] as [number, [Float32Array]];
      tell(painted, path, matrix);
    }
  });
}

/** Every filled rectangle of a page, in millimetres from the top left corner. */
export async function boxesOf(page: PrintedPage): Promise<PrintedBox[]> {
  const boxes: PrintedBox[] = [];
  await eachPath(page, (painted, path, matrix) => {
    if (painted === pdfjs.OPS.fill) boxes.push(...boxesIn(path, matrix, page.view[3]!));
  });
  return boxes;
}

export interface PrintedLine {
  x1: number;
  y1: number;
  x2: number;
  y2: number;
}

/** How many figures follow each mark of a path: move, line, curve, short curve, close. */
const FIGURES = [2, 2, 6, 4, 0];

/** Every straight stroke of a page, in millimetres from the top left corner. */
export async function linesOf(page: PrintedPage): Promise<PrintedLine[]> {
  const lines: PrintedLine[] = [];
  const height = page.view[3]!;
  await eachPath(page, (painted, path, [scaleX, , , scaleY, moveX, moveY]) => {
    if (painted !== pdfjs.OPS.stroke) return;
    let [fromX, fromY] = [0, 0];
    for (let at = 0; at < path.length; at += 1 + FIGURES[path[at]!]!) {
      const figures = FIGURES[path[at]!]!;
      if (figures === 0) continue;
      const x = (path[at + figures - 1]! * scaleX + moveX) * MILLIMETRES_PER_POINT;
      const y = (height - path[at + figures]! * scaleY - moveY) * MILLIMETRES_PER_POINT;
      if (path[at] === 1) lines.push({ x1: fromX, y1: fromY, x2: x, y2: y });
      [fromX, fromY] = [x, y];
    }
  });
  return lines;
}

/** The reader turns a rectangle into a move, three lines and a close: 3 + 3 × 3 + 1 numbers. */
const NUMBERS_IN_BOX = 13;
/** The reader's mark of a curve; a shape with curves is no rectangle. */
const CURVE = 2;

function boxesIn(path: Float32Array, matrix: Matrix, pageHeight: number): PrintedBox[] {
  if (path[3] === CURVE) return [];
  const [scaleX, , , scaleY, moveX, moveY] = matrix;
  const boxes: PrintedBox[] = [];
  for (let start = 0; start < path.length; start += NUMBERS_IN_BOX) {
    const [, left, top, , right, , , , bottom] = path.slice(start, start + NUMBERS_IN_BOX);
    boxes.push({
      x: (left! * scaleX + moveX) * MILLIMETRES_PER_POINT,
      y: (pageHeight - top! * scaleY - moveY) * MILLIMETRES_PER_POINT,
      width: (right! - left!) * scaleX * MILLIMETRES_PER_POINT,
      height: (bottom! - top!) * -scaleY * MILLIMETRES_PER_POINT,
    });
  }
  return boxes;
}

/** The page as pixels, as a printer of so many dots per inch would place them. */
export async function rasterise(page: PrintedPage, dotsPerInch: number) {
  const viewport = page.getViewport({ scale: dotsPerInch / 72 });
  const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
  await page.render({ canvas, viewport }).promise;
  return canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
}

export interface ReadBars {
  text: string;
  /** The middle of the bars in millimetres from the top left corner. */
  x: number;
  y: number;
}

let decoder: Promise<unknown> | undefined;

async function loadDecoder(): Promise<void> {
  decoder ??= readFile(resolve("zxing-wasm/reader/zxing_reader.wasm")).then((file) =>
    prepareZXingModule({
      overrides: { wasmBinary: new Uint8Array(file).buffer },
      fireImmediately: true,
    }),
  );
  await decoder;
}

/** Every Code 128 on the page that an independent decoder finds at this resolution. */
export const readBars = (page: PrintedPage, dotsPerInch: number): Promise<ReadBars[]> =>
  readCodes(page, dotsPerInch, ["Code128"]);

/** Every QR code likewise. */
export const readSquares = (page: PrintedPage, dotsPerInch: number): Promise<ReadBars[]> =>
  readCodes(page, dotsPerInch, ["QRCode"]);

async function readCodes(
  page: PrintedPage,
  dotsPerInch: number,
  formats: ["Code128"] | ["QRCode"],
): Promise<ReadBars[]> {
  await loadDecoder();
  const image = await rasterise(page, dotsPerInch);
  const found = await readBarcodes(image, {
    formats,
    maxNumberOfSymbols: 255,
    tryRotate: false,
    tryInvert: false,
    tryDownscale: false,
  });
  const toMillimetres = 25.4 / dotsPerInch;
  return found.map(({ text, position }) => ({
    text,
    x: ((position.topLeft.x + position.bottomRight.x) / 2) * toMillimetres,
    y: ((position.topLeft.y + position.bottomRight.y) / 2) * toMillimetres,
  }));
}
