import type { LabelContent } from "../rules/labels/label-content.ts";
import { type Batch, type RunOptions, runBatch, together } from "./labels/run.ts";
import { setStrip } from "./labels/set-strip.ts";
import { type Stock, type StockName, stockOf } from "./stock.ts";

export { LabelsDoNotFit, type TooFull } from "./labels/run.ts";

export interface CareStripOptions extends RunOptions {
  stock: StockName | Stock;
  guildName: string;
}

/** Permanent care strips as one PDF in pieces: fibre, symbols, care words, cautions, origin, name. */
export function streamCareStrips(
  labels: readonly LabelContent[],
  options: CareStripOptions,
): AsyncGenerator<Uint8Array> {
  const stock = stockOf(options.stock);
  const batch: Batch<LabelContent> = {
    labels,
    stock,
    title: "Care strips",
    author: options.guildName,
    set: (faces, label) => setStrip(faces, label, stock),
  };
  return runBatch(batch, options);
}

/** All care strips as one PDF, refused like tags when a strip cannot hold what must be on it. */
export const printCareStrips = (
  labels: readonly LabelContent[],
  options: CareStripOptions,
): Promise<Uint8Array> => together(streamCareStrips(labels, options));
