import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { PrismaPg } from "@prisma/adapter-pg";
import { bindMigrationAwareSqlAdapterFactory } from "@prisma/driver-adapter-utils";
import pg from "pg";
import { afterAll, beforeAll, expect, test } from "vitest";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
beforeAll(async () => {
  base = await freshDatabase();
});
afterAll(() => base.drop());

/** Node's types leave this global to the browser's. */
const { WebAssembly } = globalThis as unknown as {
  WebAssembly: {
    instantiate(bytes: Uint8Array, imports: object): Promise<{ instance: { exports: object } }>;
  };
};

interface Engine {
  diff(given: object): Promise<{ stdout: string | null }>;
}

/** Prisma's own schema engine, as WebAssembly: it draws up the SQL that would build a schema. */
async function loadEngine(schema: string): Promise<Engine> {
  const require = createRequire(import.meta.url);
  const file = require.resolve("@prisma/schema-engine-wasm/schema_engine_bg");
  const parts = await import(file);
  const bytes = readFileSync(file.replace(/\.js$/, ".wasm"));
  const { instance } = await WebAssembly.instantiate(bytes, { "./schema_engine_bg.js": parts });
  parts.__wbg_set_wasm(instance.exports);
  (instance.exports as { __wbindgen_start(): void }).__wbindgen_start();
  const adapter = bindMigrationAwareSqlAdapterFactory(new PrismaPg({ connectionString: base.url }));
  return parts.SchemaEngine.new({ datamodels: [["schema.prisma", schema]] }, () => {}, adapter);
}

test("the migrations together make the tables of schema.prisma", async () => {
  const schema = readFileSync("prisma/schema.prisma", "utf8");
  const engine = await loadEngine(schema);
  const drawn = await engine.diff({
    from: { tag: "empty" },
    to: { tag: "schemaDatamodel", files: [{ path: "schema.prisma", content: schema }] },
    script: true,
    exitCode: null,
    filters: { externalTables: [], externalEnums: [] },
    shadowDatabaseUrl: null,
  });
  const client = new pg.Client({ connectionString: base.url });
  await client.connect();
  try {
    const migrated = await tablesIn(client, "public");
    await client.query("CREATE SCHEMA drawn; SET search_path TO drawn");
    await client.query(String(drawn.stdout).replace(/CREATE SCHEMA[^;]*;/, ""));
    expect(migrated.length).toBeGreaterThan(200);
    expect(migrated).toEqual(await tablesIn(client, "drawn"));
  } finally {
    await client.end();
  }
});

/**
 * Columns, indexes and keys of one schema as sorted lines. CHECKs, partial indexes and views are
 * left out: Prisma's language has no words for them.
 */
async function tablesIn(client: pg.Client, schema: string): Promise<string[]> {
  const found = await client.query<{ line: string }>(
    `SELECT concat_ws(' ', table_name, column_name, udt_name, datetime_precision, character_maximum_length,
        is_nullable, regexp_replace(column_default, 'm(public|drawn).', '', 'g')) AS line
      FROM information_schema.columns JOIN information_schema.tables USING (table_schema, table_name)
      WHERE table_schema = $1 AND table_type = 'BASE TABLE'
    UNION ALL
    SELECT regexp_replace(indexdef, 'm(public|drawn).', '', 'g')
      FROM pg_indexes WHERE schemaname = $1 AND indexdef !~ ' WHERE '
    UNION ALL
    SELECT concat_ws(' ', c.conrelid::regclass::text, c.conname,
        regexp_replace(pg_get_constraintdef(c.oid), 'm(public|drawn).', '', 'g'))
      FROM pg_constraint c JOIN pg_namespace n ON n.oid = c.connamespace
      WHERE n.nspname = $1 AND c.contype IN ('p', 'f', 'u')`,
    [schema],
  );
  const lines = found.rows.map(({ line }) => line.replace(/\b(public|drawn)\./g, ""));
  return lines.filter((line) => !/_prisma_migrations/.test(line)).sort();
}
