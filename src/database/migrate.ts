import { createHash, randomUUID } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import pg from "pg";

const folder = fileURLToPath(new URL("../../prisma/migrations/", import.meta.url));

/** Any number does, as long as every copy of the service takes the same one. */
const migrationLock = 7_450_001;

interface Migration {
  name: string;
  sql: string;
  checksum: string;
}

/**
 * Applies what is missing, each migration in a transaction of its own, and notes it in Prisma's
 * own table, so that `prisma migrate deploy` may be used on the same database. Prisma's command
 * downloads an engine for this; a hall without internet has none. Returns the names applied.
 */
export async function migrate(url: string): Promise<string[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query("SELECT pg_advisory_lock($1)", [migrationLock]);
    await client.query(bookTable);
    const known = await client.query<{ migration_name: string; checksum: string }>(
      "SELECT migration_name, checksum FROM _prisma_migrations WHERE finished_at IS NOT NULL",
    );
    const checksums = new Map(known.rows.map((row) => [row.migration_name, row.checksum]));
    const applied: string[] = [];
    for (const migration of await readMigrations()) {
      const before = checksums.get(migration.name);
      if (before === undefined) {
        await apply(client, migration);
        applied.push(migration.name);
      } else if (before !== migration.checksum) {
        throw new Error(`The migration ${migration.name} was changed after it had been applied.`);
      }
    }
    return applied;
  } finally {
    await client.end();
  }
}

async function readMigrations(): Promise<Migration[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  return Promise.all(
    names.sort().map(async (name) => {
      const sql = await readFile(`${folder}${name}/migration.sql`, "utf8");
      return { name, sql, checksum: createHash("sha256").update(sql).digest("hex") };
    }),
  );
}

async function apply(client: pg.Client, migration: Migration): Promise<void> {
  await client.query("BEGIN");
  try {
    await client.query(migration.sql);
    await client.query(
      `INSERT INTO _prisma_migrations (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
       VALUES ($1, $2, $3, now(), now(), 1)`,
      [randomUUID(), migration.checksum, migration.name],
    );
    await client.query("COMMIT");
  } catch (cause) {
    await client.query("ROLLBACK");
    throw new Error(`The migration ${migration.name} failed; nothing of it was kept.`, { cause });
  }
}

const bookTable = `CREATE TABLE IF NOT EXISTS _prisma_migrations (
  id varchar(36) PRIMARY KEY,
  checksum varchar(64) NOT NULL,
  finished_at timestamptz,
  migration_name varchar(255) NOT NULL,
  logs text,
  rolled_back_at timestamptz,
  started_at timestamptz NOT NULL DEFAULT now(),
  applied_steps_count integer NOT NULL DEFAULT 0
)`;
