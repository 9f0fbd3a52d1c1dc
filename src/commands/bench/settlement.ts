import { execFile } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import pg from "pg";
import { startCluster } from "../../database/embedded/cluster.ts";
import { migrate } from "../../database/migrate.ts";
import { query } from "./hall.ts";
import type { BenchResult } from "./rounds.ts";
import { linesEach, oneAggregate, settlementSql } from "./settlement-sql.ts";

const rounds = 3;
/** Ten times the lines may take this many times as long, and one settlement this much memory. */
const most = { times: 11, megabytes: 1_024 };

interface Settled {
  lines: number;
  preview: number;
  finalise: number;
  megabytes: number;
}

/**
 * A settlement of 1,000 members and 50,000 lines, and one of a tenth of both, each in a process of
 * its own on a copy of the same rows: time against one plain SQL aggregate over those rows, growth
 * and memory against the most that they may be. Figures are medians; of the memory the highest.
 */
export async function benchSettlement(
  members = 1_000,
): Promise<{ time: BenchResult[]; bounds: BenchResult[] }> {
  const folder = await mkdtemp(join(tmpdir(), "thrumbook-bench-"));
  const cluster = await startCluster(folder);
  try {
    await fill(cluster.url, "large", members);
    await fill(cluster.url, "small", members / 10);
    const large: (Settled & { plain: number })[] = [];
    const small: Settled[] = [];
    for (let round = 0; round < rounds; round += 1) {
      small.push(await settleCopy(cluster.url, "small"));
      const plain = await aggregate(cluster.url("large"));
      large.push({ ...(await settleCopy(cluster.url, "large")), plain });
    }
    const lines = large[0]!.lines;
    if (lines !== members * linesEach) throw new Error(`Only ${lines} lines were settled.`);
    return resultsOf(large, small);
  } finally {
    await cluster.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

type UrlOf = (database: string) => string;

async function fill(url: UrlOf, name: string, count: number): Promise<void> {
  await query(url("postgres"), [`CREATE DATABASE ${name}`]);
  await migrate(url(name));
  await query(url(name), settlementSql(count));
}

/** A settlement is for ever, so each round has a copy to settle. */
async function settleCopy(url: UrlOf, name: string): Promise<Settled> {
  await query(url("postgres"), [`CREATE DATABASE copied TEMPLATE ${name}`]);
  const file = fileURLToPath(new URL("./settle-once.ts", import.meta.url));
  const parts = ["--import", "tsx", file, url("copied")];
  const { stdout } = await promisify(execFile)(process.execPath, parts);
  await query(url("postgres"), ["DROP DATABASE copied WITH (FORCE)"]);
  return JSON.parse(stdout) as Settled;
}

async function aggregate(url: string): Promise<number> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await client.query(oneAggregate);
  const start = performance.now();
  await client.query(oneAggregate);
  const took = performance.now() - start;
  await client.end();
  return took;
}

function resultsOf(large: (Settled & { plain: number })[], small: Settled[]) {
  const whole = ({ preview, finalise }: Settled) => preview + finalise;
  const plain = median(large.map((one) => one.plain));
  const times = median(large.map(whole)) / median(small.map(whole));
  const megabytes = Math.max(...large.map((one) => one.megabytes));
  const timed = (name: string, ours: number) =>
    row(`${name}, ${large[0]!.lines} lines`, ours, plain, "ms");
  return {
    time: [
      timed("settlement seen", median(large.map(({ preview }) => preview))),
      timed("settled for ever", median(large.map(({ finalise }) => finalise))),
    ],
    bounds: [
      row("settlement of 10 times the lines", times, most.times, "times"),
      row("memory of a settlement", megabytes, most.megabytes, "megabytes"),
    ],
  };
}

const row = (name: string, ours: number, limit: number, unit: string): BenchResult => ({
  ...{ name, ours, limit, ratio: limit / ours, unit },
});

const median = (values: number[]): number =>
  values.toSorted((one, other) => one - other)[values.length >> 1]!;
