import { mkdir, open, rename, rm } from "node:fs/promises";
import { dirname } from "node:path";
import type { Database } from "../database/client.ts";
import { beatPrintJob, itemsOfPrint, type PrintJobRead } from "../database/print-jobs.ts";
import { copiesOf, gatherTags } from "../database/tags.ts";
import { streamCareStrips } from "../printing/care-strips.ts";
import type { Paper } from "../printing/paper.ts";
import { LabelsDoNotFit, streamTags } from "../printing/tags.ts";
import { tooFullWords } from "../printing/too-full.ts";

/** How often a print notes how far it has come, and looks whether it was cancelled. */
const beatEvery = 300;

export type PrintEnd =
  | { state: "ready" }
  | { state: "failed"; problem: string }
  | { state: "cancelled" };

/**
 * Makes the file of one print, page by page, so that memory stays flat however many labels there
 * are. The file gets its name only when it is whole. `signal` ends the work from outside.
 */
export async function writePrint(
  db: Database,
  job: PrintJobRead,
  file: string,
  signal: AbortSignal,
): Promise<PrintEnd> {
  const paper = job.options as Paper;
  const guild = await db.guild.findFirstOrThrow();
  const sale = await db.sale.findUniqueOrThrow({ where: { id: job.saleId } });
  const itemIds = await itemsOfPrint(db, job.id);
  const each = job.what === "tag" && paper.each;
  const tags = await gatherTags(db, { saleId: sale.id, itemIds, each });
  const labels = copiesOf(tags, paper.code);
  if (labels.length === 0)
    return { state: "failed", problem: "Every piece of this print was withdrawn meanwhile." };
  let done = 0;
  const options = {
    ...{ ...paper, guildName: guild.name, saleName: sale.name, signal },
    createdAt: job.createdAt,
    onProgress: (printed: number) => {
      done = printed;
    },
  };
  const pieces =
    job.what === "tag" ? streamTags(labels, options) : streamCareStrips(labels, options);
  const beat = () => beatPrintJob(db, job.id, Math.min(done, job.total));
  try {
    const whole = await writePieces(pieces, file, beat);
    return { state: whole ? "ready" : "cancelled" };
  } catch (error) {
    if (!(error instanceof LabelsDoNotFit)) throw error;
    return {
      state: "failed",
      problem: tooFullWords(error.labels, labels, paper.stock, job.what),
    };
  }
}

async function writePieces(
  pieces: AsyncIterable<Uint8Array>,
  file: string,
  beat: () => Promise<boolean>,
): Promise<boolean> {
  await mkdir(dirname(file), { recursive: true });
  const part = `${file}.part`;
  const handle = await open(part, "w");
  let last = Date.now();
  try {
    for await (const piece of pieces) {
      await handle.write(piece);
      if (Date.now() - last < beatEvery) continue;
      last = Date.now();
      if (!(await beat())) return false;
    }
    await rename(part, file);
    return true;
  } finally {
    await handle.close();
    await rm(part, { force: true });
  }
}
