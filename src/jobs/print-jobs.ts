import { readdir, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import type { Database } from "../database/client.ts";
import {
  endPrintJob,
  findPrintJob,
  leavePrintJob,
  type PrintJobRead,
  takePrintJob,
} from "../database/print-jobs.ts";
import { writePrint } from "./print-file.ts";

/** A file is kept for a day: long enough to print again what jammed. */
export const keptFor = 86_400_000;
const lookEvery = 60_000;

export interface PrintJobs {
  /** Says that something waits. */
  wake(): void;
  /** Waits until a print has ended, or for so many milliseconds at most. */
  settled(id: string, milliseconds: number): Promise<void>;
  fileOf(id: string): string;
  stop(): Promise<void>;
}

/**
 * Makes the files of prints, one at a time, inside this process. The queue is in the database, so
 * a print that waits or was cut off is made after a restart, and a second process never makes it
 * twice. `failed` hears of faults, which end a print with an apology and not the process.
 */
export function startPrintJobs(
  db: Database,
  folder: string,
  failed: (error: unknown) => void = () => {},
): PrintJobs {
  const stopping = new AbortController();
  let working: Promise<void> | undefined;
  let again = false;
  const fileOf = (id: string) => join(folder, `${id}.pdf`);

  async function work(): Promise<void> {
    do {
      again = false;
      await forgetOld(folder);
      for (let job = await takePrintJob(db); job; job = await takePrintJob(db)) {
        await make(db, job, fileOf(job.id), stopping.signal).catch(failed);
        if (stopping.signal.aborted) return;
      }
    } while (again);
  }

  function wake(): void {
    if (stopping.signal.aborted) return;
    again = true;
    working ??= work()
      .catch(failed)
      .finally(() => {
        working = undefined;
        // Something may have come between the last look and this line.
        if (again && !stopping.signal.aborted) wake();
      });
  }

  const timer = setInterval(wake, lookEvery);
  timer.unref();
  return {
    wake,
    fileOf,
    settled: (id, milliseconds) => untilEnded(db, id, milliseconds),
    stop: async () => {
      clearInterval(timer);
      stopping.abort();
      await working;
    },
  };
}

async function make(
  db: Database,
  job: PrintJobRead,
  file: string,
  signal: AbortSignal,
): Promise<void> {
  try {
    const end = await writePrint(db, job, file, signal);
    const ended = end.state === "cancelled" ? false : await endPrintJob(db, job.id, end);
    if (!ended) await rm(file, { force: true });
  } catch (error) {
    if (signal.aborted) {
      await leavePrintJob(db, job.id);
      return;
    }
    const problem = "Something went wrong on our side while the file was made. Ask for it again.";
    await endPrintJob(db, job.id, { state: "failed", problem });
    throw error;
  }
}

async function untilEnded(db: Database, id: string, milliseconds: number): Promise<void> {
  const until = Date.now() + milliseconds;
  while (Date.now() < until) {
    const job = await findPrintJob(db, id);
    if (!job || job.endedAt) return;
    await wait(50);
  }
}

/** Nothing else that lies in the folder is ever touched. */
const ourFile = /^[0-9a-f-]{36}\.pdf(\.part)?$/;

/** Clears away files that nobody will fetch any more; a folder not made yet holds none. */
async function forgetOld(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => []);
  for (const name of names.filter((one) => ourFile.test(one))) {
    const file = join(folder, name);
    const { mtimeMs } = await stat(file);
    if (mtimeMs < Date.now() - keptFor) await rm(file, { force: true });
  }
}
