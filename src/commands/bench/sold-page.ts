import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import { hashPassphrase } from "../../actions/passphrase.ts";
import { type Cluster, startCluster } from "../../database/embedded/cluster.ts";
import { migrate } from "../../database/migrate.ts";
import { startChild } from "./child.ts";
import { query } from "./hall.ts";
import type { BenchResult } from "./rounds.ts";
import { soldSql } from "./sold-sql.ts";

const passphrase = "a bench needs a pass phrase";
const rounds = 21;
/** A page may take so many times as long when the others have a hundred times as much. */
const most = 1.5;

/**
 * What sold of a member with ten sales and 2,000 items: the page alone in the guild, and the same
 * page beside `others` members with as much each, asked in turn.
 */
export async function benchSold(others = 100): Promise<BenchResult> {
  const folder = await mkdtemp(join(tmpdir(), "thrumbook-bench-"));
  const cluster = await startCluster(folder);
  const alone = await openGuild(cluster, join(folder, "alone"), "alone", 1);
  const crowd = await openGuild(cluster, join(folder, "crowd"), "crowd", 1 + others);
  try {
    const times = { alone: [] as number[], crowd: [] as number[] };
    for (let round = 0; round < rounds; round += 1) {
      times.alone.push(await alone.ask());
      times.crowd.push(await crowd.ask());
    }
    const ours = median(times.crowd.slice(5));
    const limit = most * median(times.alone.slice(5));
    const name = `what sold, beside ${others} like it`;
    return { name, ours, limit, ratio: limit / ours, unit: "ms" };
  } finally {
    await alone.stop();
    await crowd.stop();
    await cluster.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

async function openGuild(cluster: Cluster, folder: string, name: string, members: number) {
  await query(cluster.url("postgres"), [`CREATE DATABASE ${name}`]);
  await migrate(cluster.url(name));
  await query(cluster.url(name), soldSql(members, await hashPassphrase(passphrase)));
  const server = await startChild("../../server.ts", {
    ...{ DATABASE_URL: cluster.url(name), PORT: "0", DATA_DIR: folder, LOG_LEVEL: "silent" },
  });
  const cookie = `thrumbook-access=${await signIn(server.address)}`;
  return { stop: server.stop, ask: () => pageTime(server.address, cookie) };
}

async function signIn(address: string): Promise<string> {
  const answer = await fetch(`${address}/api/session`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ identifier: "100", passphrase }),
  });
  const { accessToken } = (await answer.json()) as { accessToken?: string };
  if (!accessToken) throw new Error(`The bench could not sign in: ${answer.status}`);
  return accessToken;
}

async function pageTime(address: string, cookie: string): Promise<number> {
  const start = performance.now();
  const answer = await fetch(`${address}/bench/sold`, { headers: { cookie } });
  const text = await answer.text();
  const took = performance.now() - start;
  if (answer.status !== 200 || !text.includes("1000 of 4000"))
    throw new Error(`The bench got no page with its pieces: ${answer.status}`);
  return took;
}

const median = (values: number[]): number =>
  values.toSorted((one, other) => one - other)[values.length >> 1]!;
