import { existsSync, statSync, utimesSync } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { askPrint } from "../../src/actions/ask-print.ts";
import { cancelPrint } from "../../src/actions/cancel-print.ts";
import {
  endPrintJob,
  findPrintJob,
  leavePrintJob,
  takePrintJob,
} from "../../src/database/print-jobs.ts";
import { startPrintJobs } from "../../src/jobs/print-jobs.ts";
import { paperFor } from "../../src/printing/paper.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let folder: string;
let member: Awaited<ReturnType<typeof buildMember>>;
let sale: { id: string };

beforeAll(async () => {
  base = await freshDatabase();
  folder = await mkdtemp(join(tmpdir(), "thrumbook-prints-"));
  await buildGuild(base.db);
  member = await buildMember(base.db);
  sale = await buildSale(base.db);
  for (let count = 0; count < 4; count += 1) await enter(base.db, member, sale, { quantity: 500 });
});
afterAll(async () => {
  await base.drop();
  await rm(folder, { recursive: true, force: true });
});

async function ask(): Promise<string> {
  const order = {
    what: "tag" as const,
    stock: "letter-10",
    start: 1,
    skip: [],
    second: false,
    code: "bars" as const,
    each: true,
  };
  const paper = paperFor(order, null, null);
  if (!paper.ok) throw new Error(paper.problem.detail);
  const asked = await askPrint(deedOf(base.db, member), {
    ...{ saleId: sale.id, memberId: member.id, what: "tag", which: "all" },
    ...{ stock: "letter-10", paper: paper.value, about: "" },
  });
  if (!asked.ok) throw new Error(asked.problem.detail);
  return asked.value.id;
}

test("a stop in the middle leaves the print in the queue, and the next worker makes it whole", async () => {
  const id = await ask();
  const first = startPrintJobs(base.db, folder);
  first.wake();
  const running = async () => (await findPrintJob(base.db, id))?.state === "running";
  while (!(await running())) await new Promise((go) => setTimeout(go, 5));
  await first.stop();
  expect((await findPrintJob(base.db, id))?.state).toBe("waiting");
  expect(existsSync(first.fileOf(id))).toBe(false);
  const second = startPrintJobs(base.db, folder);
  second.wake();
  await second.settled(id, 60_000);
  expect(await findPrintJob(base.db, id)).toMatchObject({
    state: "ready",
    done: 2_000,
    total: 2_000,
  });
  expect(statSync(second.fileOf(id)).size).toBeGreaterThan(50_000);
  await second.stop();
});

test("a print that is cancelled while it is made leaves no file", async () => {
  const id = await ask();
  const jobs = startPrintJobs(base.db, folder);
  jobs.wake();
  while ((await findPrintJob(base.db, id))?.state !== "running")
    await new Promise((go) => setTimeout(go, 5));
  expect((await cancelPrint(deedOf(base.db, member), { id })).ok).toBe(true);
  await jobs.settled(id, 60_000);
  await jobs.stop();
  expect((await findPrintJob(base.db, id))?.state).toBe("cancelled");
  expect(existsSync(jobs.fileOf(id))).toBe(false);
});

/** A database where somebody stops the print at the last moment, when its file is whole. */
function stoppedAtTheEnd(db: TestDatabase["db"], id: string): TestDatabase["db"] {
  return db.$extends({
    query: {
      printJob: {
        async updateMany({ args, query }) {
          const ends = (args.data as { state?: string }).state === "ready";
          if (ends) expect((await cancelPrint(deedOf(db, member), { id })).ok).toBe(true);
          return query(args);
        },
      },
    },
  }) as unknown as TestDatabase["db"];
}

test("a print that is cancelled when its file is whole leaves no file either", async () => {
  const id = await ask();
  const jobs = startPrintJobs(stoppedAtTheEnd(base.db, id), folder);
  jobs.wake();
  await jobs.settled(id, 60_000);
  await jobs.stop();
  expect((await findPrintJob(base.db, id))?.state).toBe("cancelled");
  expect(existsSync(jobs.fileOf(id))).toBe(false);
  expect(existsSync(`${jobs.fileOf(id)}.part`)).toBe(false);
});

test("of two who cancel at once one does it and the other is told", async () => {
  const id = await ask();
  const cancel = () => cancelPrint(deedOf(base.db, member), { id });
  const ends = await Promise.all([cancel(), cancel(), cancel()]);
  expect(ends.filter(({ ok }) => ok)).toHaveLength(1);
  const codes = ends.map((end) => (end.ok ? "ok" : end.problem.code)).sort();
  expect(codes).toEqual(["already-done", "already-done", "ok"]);
  expect(await endPrintJob(base.db, id, { state: "ready" })).toBe(false);
  expect((await findPrintJob(base.db, id))?.state).toBe("cancelled");
});

test("a print that has ended cannot be cancelled, and keeps its file", async () => {
  const id = await ask();
  const jobs = startPrintJobs(base.db, folder);
  jobs.wake();
  await jobs.settled(id, 60_000);
  const late = await cancelPrint(deedOf(base.db, member), { id });
  await jobs.stop();
  expect(late.ok ? "" : late.problem.code).toBe("already-done");
  expect((await findPrintJob(base.db, id))?.state).toBe("ready");
  expect(existsSync(jobs.fileOf(id))).toBe(true);
});

test("a worker that died leaves its print to one of the others, once", async () => {
  const id = await ask();
  const died = new Date(Date.now() - 120_000);
  await base.db.printJob.update({ where: { id }, data: { state: "running", beatAt: died } });
  const taken = await Promise.all([1, 2, 3].map(() => takePrintJob(base.db)));
  expect(taken.map((job) => job?.id ?? null).filter(Boolean)).toEqual([id]);
  expect(await takePrintJob(base.db)).toBeNull();
  await leavePrintJob(base.db, id);
  const jobs = startPrintJobs(base.db, folder);
  jobs.wake();
  await jobs.settled(id, 60_000);
  await jobs.stop();
  expect(await findPrintJob(base.db, id)).toMatchObject({ state: "ready", done: 2_000 });
});

test("files older than a day are cleared away, and a fault ends one print and not the queue", async () => {
  const old = join(folder, `${v7()}.pdf`);
  const other = join(folder, "notes.txt");
  await writeFile(other, "kept");
  await writeFile(old, "old");
  const dayBefore = new Date(Date.now() - 2 * 86_400_000);
  utimesSync(old, dayBefore, dayBefore);
  utimesSync(other, dayBefore, dayBefore);
  const broken = await ask();
  await base.db.printJob.update({ where: { id: broken }, data: { options: { each: true } } });
  const whole = await ask();
  const faults: unknown[] = [];
  const jobs = startPrintJobs(base.db, folder, (error) => faults.push(error));
  jobs.wake();
  await jobs.settled(whole, 60_000);
  await jobs.stop();
  expect(existsSync(old)).toBe(false);
  expect(existsSync(other)).toBe(true);
  expect(await findPrintJob(base.db, broken)).toMatchObject({
    state: "failed",
    problem: expect.stringContaining("Ask for it again"),
  });
  expect((await findPrintJob(base.db, whole))?.state).toBe("ready");
  expect(faults).toHaveLength(1);
});
