import { join } from "node:path";
import pg from "pg";
import type { Settings } from "../settings.ts";
import { type Database, openDatabase } from "./client.ts";
import { startCluster } from "./embedded/cluster.ts";
import { migrate } from "./migrate.ts";
import { workingUrl } from "./working-role.ts";

export interface StartedDatabase {
  db: Database;
  /** Where the service works, as a role that owns nothing. */
  url: string;
  /** Where the owner of the tables gets in: for migrations, and for the dates of the demo. */
  ownerUrl: string;
  close(): Promise<void>;
}

/** The database of the settings, migrated: the given server, or the embedded one. */
export async function startDatabase(
  settings: Settings,
  name = "thrumbook",
): Promise<StartedDatabase> {
  const cluster = settings.databaseUrl
    ? undefined
    : await startCluster(join(settings.dataDir, "postgres"));
  if (cluster) await createIfMissing(cluster.url("postgres"), name);
  const ownerUrl = settings.databaseUrl ?? (cluster as { url(name: string): string }).url(name);
  await migrate(ownerUrl);
  const url = await workingUrl(ownerUrl);
  const db = openDatabase(url, settings.databasePool);
  return {
    db,
    url,
    ownerUrl,
    close: async () => {
      await db.$disconnect();
      await cluster?.stop();
    },
  };
}

async function createIfMissing(url: string, name: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    const found = await client.query("SELECT 1 FROM pg_database WHERE datname = $1", [name]);
    if (found.rowCount === 0)
      await client.query(`CREATE DATABASE ${client.escapeIdentifier(name)}`);
  } finally {
    await client.end();
  }
}
