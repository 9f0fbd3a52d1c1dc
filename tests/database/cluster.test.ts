import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import { afterAll, beforeAll, expect, test } from "vitest";
import { startCluster } from "../../src/database/embedded/cluster.ts";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "thrumbook-cluster-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function ask(url: string, sql: string): Promise<unknown> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const rows = (await client.query(sql)).rows;
  await client.end();
  return Object.values(rows[0] ?? {})[0];
}

test("starts, keeps its data, and is taken over when a crash left it running", async () => {
  const first = await startCluster(folder);
  const url = first.url("postgres");
  expect(await ask(url, "SHOW server_version_num")).toMatch(/^18/);
  // What makes an answered sale safe from a power cut: PostgreSQL's own defaults, not switched off.
  for (const setting of ["fsync", "full_page_writes", "synchronous_commit", "data_checksums"])
    expect([setting, await ask(url, `SHOW ${setting}`)]).toEqual([setting, "on"]);
  await ask(url, "CREATE TABLE kept AS SELECT 42 AS answer");

  const second = await startCluster(folder);
  expect(second.url("postgres")).toBe(url);
  await second.stop();

  const third = await startCluster(folder);
  expect(await ask(third.url("postgres"), "SELECT answer FROM kept")).toBe(42);
  await third.stop();
});

test("nobody gets in without the password", async () => {
  const cluster = await startCluster(folder);
  const wrong = cluster.url("postgres").replace(/:[^:@]+@/, ":guess@");
  await expect(ask(wrong, "SELECT 1")).rejects.toThrow(/password/);
  await cluster.stop();
});
