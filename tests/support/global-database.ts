import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import type { TestProject } from "vitest/node";
import { startCluster } from "../../src/database/embedded/cluster.ts";
import { migrate } from "../../src/database/migrate.ts";

declare module "vitest" {
  export interface ProvidedContext {
    clusterUrl: string;
  }
}

export const template = "thrumbook_template";

/** One throw-away PostgreSQL for the run; every test file copies the migrated template. */
export default async function setup(project: TestProject) {
  const folder = await mkdtemp(join(tmpdir(), "thrumbook-test-"));
  const cluster = await startCluster(folder, ["max_connections=200"]);
  const client = new pg.Client({ connectionString: cluster.url("postgres") });
  await client.connect();
  await client.query(`CREATE DATABASE ${template}`);
  await client.end();
  await migrate(cluster.url(template));
  project.provide("clusterUrl", cluster.url("postgres"));
  return async () => {
    await cluster.stop();
    await rm(folder, { recursive: true, force: true });
  };
}
