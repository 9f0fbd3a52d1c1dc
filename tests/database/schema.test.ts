import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { PrismaPg } from "@prisma/adapter-pg";
import { bindMigrationAwareSqlAdapterFactory } from "@prisma/driver-adapter-utils";
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

/** The statements of a script, whatever their order. */
const statements = (sql: string): string[] =>
  sql
    .split("\n")
    .filter((line) => !line.startsWith("--"))
    .join("\n")
    .split(";")
    .map((statement) => statement.trim())
    .filter((statement) => statement !== "" && !/^CREATE SCHEMA/.test(statement))
    .sort();

test("the tables of the first migration are those of schema.prisma", async () => {
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
  const written = readFileSync("prisma/migrations/20261125000100_tables/migration.sql", "utf8");
  expect(statements(written)).toEqual(statements(drawn.stdout ?? ""));
});
