import { setImmediate as letOthersRun } from "node:timers/promises";
import { type Calibration, perfect, shiftOf } from "../calibration.ts";
import { openDocument, writtenSoFar } from "../document.ts";
import { type Faces, measuringFaces } from "../fonts.ts";
import type { Stock } from "../stock-shape.ts";
import type { Setting } from "./laid.ts";
import type { Part } from "./passages.ts";
import { freePlaces, Sheets } from "./sheets.ts";
import type { TagPlan } from "./tag-plan.ts";

/** How a batch of labels goes onto paper. */
export interface RunOptions {
  /** The first place to use on the first sheet, counted from 1, for sheets already begun. */
  startAt?: number;
  /** Further places of the first sheet that are used up, counted from 1. */
  skip?: readonly number[];
  calibration?: Calibration;
  /** Lets what has no room go on to a second label instead of refusing the batch. */
  secondStrip?: boolean;
  createdAt: Date;
  /** Told after every page how many of the labels given are on paper. */
  onProgress?: (printed: number, total: number) => void;
  signal?: AbortSignal;
}

export interface Batch<Label extends { tag: string; shownTag: string }> {
  labels: readonly Label[];
  stock: Stock;
  title: string;
  author: string;
  set: (faces: Faces, label: Label, known?: TagPlan) => Setting;
}

/** One label that cannot be printed as it is. */
export interface TooFull {
  tag: string;
  shownTag: string;
  missing: Part[];
}

/** Nothing is printed when a label cannot hold what must be on it; `labels` says which and why. */
export class LabelsDoNotFit extends Error {
  readonly labels: readonly TooFull[];

  constructor(labels: readonly TooFull[]) {
    const some = labels.slice(0, 5).map(({ shownTag }) => shownTag);
    const more = labels.length > some.length ? ` and ${labels.length - some.length} more` : "";
    super(`Some labels are too small for what must be on them: ${some.join(", ")}${more}.`);
    this.name = "LabelsDoNotFit";
    this.labels = labels;
  }
}

/** After so many labels looked at the server gets to answer others. */
const LABELS_AT_A_TIME = 100;

/**
 * Sets every label before the first page goes out and throws `LabelsDoNotFit` with all that cannot
 * be printed. Of the others only the plans are kept, a few figures each.
 */
async function planAll<Label extends { tag: string; shownTag: string }>(
  { labels, set }: Batch<Label>,
  { secondStrip, signal }: RunOptions,
): Promise<(TagPlan | undefined)[]> {
  const faces = measuringFaces();
  const plans: (TagPlan | undefined)[] = [];
  const tooFull: TooFull[] = [];
  for (const [index, label] of labels.entries()) {
    const setting = set(faces, label);
    plans.push(setting.fits ? setting.plan : undefined);
    if (!setting.fits && (secondStrip !== true || setting.laid === undefined)) {
      const { tag, shownTag } = label;
      tooFull.push({ tag, shownTag, missing: setting.missing });
    }
    if (index % LABELS_AT_A_TIME === 0) await letOthersRun();
    signal?.throwIfAborted();
  }
  if (tooFull.length > 0) throw new LabelsDoNotFit(tooFull);
  return plans;
}

/**
 * All labels as one PDF in pieces, in the order given; no more than a page or two is held in
 * memory. It throws when there is no label, when no place is free, and when `signal` ends the work.
 */
export async function* runBatch<Label extends { tag: string; shownTag: string }>(
  batch: Batch<Label>,
  options: RunOptions,
): AsyncGenerator<Uint8Array> {
  const { labels, stock, title, author, set } = batch;
  const { onProgress, signal, createdAt } = options;
  if (labels.length === 0) throw new RangeError("There is no label to print.");
  const free = freePlaces(stock, options);
  const shift = shiftOf(options.calibration ?? perfect);
  const plans = await planAll(batch, options);
  const document = openDocument({ title, author, createdAt });
  const sheets = new Sheets(document, stock, free, shift);
  for (const [index, label] of labels.entries()) {
    const pieces = set(measuringFaces(), label, plans[index]).laid?.() ?? [];
    for (const [piece, laid] of pieces.entries()) {
      sheets.add(laid);
      const last = index === labels.length - 1 && piece === pieces.length - 1;
      if (!sheets.full && !last) continue;
      sheets.finish();
      yield* writtenSoFar(document);
      onProgress?.(piece === pieces.length - 1 ? index + 1 : index, labels.length);
      await letOthersRun();
      signal?.throwIfAborted();
    }
  }
  document.end();
  yield* writtenSoFar(document);
}

/** All the pieces as one file. */
export async function together(pieces: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  for await (const piece of pieces) parts.push(piece);
  return new Uint8Array(Buffer.concat(parts));
}
