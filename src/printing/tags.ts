import type { LabelContent } from "../rules/labels/label-content.ts";
import { type Batch, type RunOptions, runBatch, together } from "./labels/run.ts";
import { setTag } from "./labels/set-tag.ts";
import { type Stock, type StockName, stockOf } from "./stock.ts";

export { LabelsDoNotFit, type TooFull } from "./labels/run.ts";

export interface TagOptions extends RunOptions {
  stock: StockName | Stock;
  guildName: string;
  saleName: string;
}

/** Tags as one PDF in pieces, for files too large to be held in memory. */
export function streamTags(
  labels: readonly LabelContent[],
  options: TagOptions,
): AsyncGenerator<Uint8Array> {
  const stock = stockOf(options.stock);
  const batch: Batch<LabelContent> = {
    labels,
    stock,
    title: `Tags for ${options.saleName}`,
    author: options.guildName,
    set: (faces, label, known) => setTag(faces, label, stock, options.guildName, known),
  };
  return runBatch(batch, options);
}

/**
 * All tags as one PDF. Nothing is printed, and `LabelsDoNotFit` says why, when a tag cannot hold
 * what must be on it and `secondStrip` is not set.
 */
export const printTags = (
  labels: readonly LabelContent[],
  options: TagOptions,
): Promise<Uint8Array> => together(streamTags(labels, options));
