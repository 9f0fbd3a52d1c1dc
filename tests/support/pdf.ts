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

/** Every filled rectangle of a page, in millimetres from the top left corner. */
export async function boxesOf(page: PrintedPage): Promise<PrintedBox[]> {
  const { fnArray, argsArray } = await page.getOperatorList();
  const boxes: PrintedBox[] = [];
  fnArray.forEach((operator, index) => {
    if (operator !== pdfjs.OPS.constructPath) return;
    const [painted, [path]] = argsArray[index] as [number, [Float32Array]];
    if (painted === pdfjs.OPS.fill) boxes.push(...boxesIn(path));
  });
  return boxes;
}

/** The reader turns a rectangle into a move, three lines and a close: 3 + 3 × 3 + 1 numbers. */
const NUMBERS_IN_BOX = 13;

function boxesIn(path: Float32Array): PrintedBox[] {
  const boxes: PrintedBox[] = [];
  for (let start = 0; start < path.length; start += NUMBERS_IN_BOX) {
    const [, left, top, , right, , , , bottom] = path.slice(start, start + NUMBERS_IN_BOX);
    boxes.push({
      x: left! * MILLIMETRES_PER_POINT,
      y: top! * MILLIMETRES_PER_POINT,
      width: (right! - left!) * MILLIMETRES_PER_POINT,
      height: (bottom! - top!) * MILLIMETRES_PER_POINT,
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
export async function readBars(page: PrintedPage, dotsPerInch: number): Promise<ReadBars[]> {
  await loadDecoder();
  const image = await rasterise(page, dotsPerInch);
  const found = await readBarcodes(image, {
    formats: ["Code128"],
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
