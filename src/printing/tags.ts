import { setImmediate as letOthersRun } from "node:timers/promises";
import type { TagLabel } from "../rules/tag-label.ts";
import { closeDocument, openDocument } from "./document.ts";
import { openFaces } from "./fonts.ts";
import { PageInk } from "./ink.ts";
import { toPoints } from "./lengths.ts";
import { cells, labelsOn, type StockName, stocks } from "./stock.ts";
import { drawTag } from "./tag-layout.ts";

export interface TagOptions {
  stock: StockName;
  /** The first label to use on the first sheet, counted from 1, for sheets already begun. */
  startAt: number;
  guildName: string;
  saleName: string;
  createdAt: Date;
  onProgress?: (printed: number, total: number) => void;
  signal?: AbortSignal;
}

/** After so many sheets the server gets to answer others before the next one is drawn. */
const SHEETS_AT_A_TIME = 5;

/**
 * All tags as one PDF, in the order given. It throws when there is no tag, when `startAt` lies
 * outside the sheet, and when `signal` ends the work.
 */
export async function printTags(
  tags: readonly TagLabel[],
  options: TagOptions,
): Promise<Uint8Array> {
  const { stock: stockName, startAt, onProgress, signal } = options;
  const stock = stocks[stockName];
  if (tags.length === 0) throw new RangeError("There is no tag to print.");
  if (!Number.isInteger(startAt) || startAt < 1 || startAt > labelsOn(stock)) {
    throw new RangeError(`The first label is one of 1 to ${labelsOn(stock)}.`);
  }
  const document = openDocument({
    title: `Tags for ${options.saleName}`,
    author: options.guildName,
    createdAt: options.createdAt,
  });
  const faces = openFaces(document);
  const places = cells(stock);
  let place = startAt - 1;
  let sheets = 0;
  for (let printed = 0; printed < tags.length; place = 0) {
    const ink = new PageInk();
    const batch = tags.slice(printed, printed + places.length - place);
    for (const tag of batch) {
      drawTag(ink, faces, tag, places[place]!, options.guildName);
      place += 1;
    }
    ink.print(document, toPoints(stock.paper.width), toPoints(stock.paper.height));
    printed += batch.length;
    sheets += 1;
    onProgress?.(printed, tags.length);
    if (sheets % SHEETS_AT_A_TIME === 0) await letOthersRun();
    signal?.throwIfAborted();
  }
  return closeDocument(document);
}
