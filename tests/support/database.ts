import { randomBytes } from "node:crypto";
import pg from "pg";
import { inject } from "vitest";
import { type Database, openDatabase } from "../../src/database/client.ts";
import { template } from "./global-database.ts";

export interface TestDatabase {
  url: string;
  db: Database;
  drop(): Promise<void>;
}

/** A migrated, empty database of its own for one test file. */
export async function freshDatabase(): Promise<TestDatabase> {
  const name = `t_${randomBytes(6).toString("hex")}`;
  await onServer(`CREATE DATABASE ${name} TEMPLATE ${template}`);
  const url = inject("clusterUrl").replace(/\/postgres$/, `/${name}`);
  const db = openDatabase(url);
  return {
    url,
    db,
    drop: async () => {
      await db.$disconnect();
      await onServer(`DROP DATABASE ${name} WITH (FORCE)`);
    },
  };
}

async function onServer(sql: string): Promise<void> {
  const client = new pg.Client({ connectionString: inject("clusterUrl") });
  await client.connect();
  // Several files copy the template at once; PostgreSQL wants it to itself, so they take turns.
  await client.query("SELECT pg_advisory_lock(7450002)");
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
}
