import { readFileSync } from "node:fs";
import { afterAll, beforeAll, expect, test } from "vitest";
import { archived, leftOut } from "../../src/database/archive/tables.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
beforeAll(async () => {
  base = await freshDatabase();
});
afterAll(() => base.drop());

const names = archived.map(({ name }) => name);

test("every table is archived, or left out with a reason", () => {
  const schema = readFileSync("prisma/schema.prisma", "utf8");
  const tables = [...schema.matchAll(/@@map\("(\w+)"\)/g)].map(([, name]) => name);
  expect([...names, ...Object.keys(leftOut)].sort()).toEqual(tables.sort());
  for (const reason of Object.values(leftOut)) expect(reason).not.toBe("");
});

test("no column that sounds like a secret or a way to somebody's money goes along unnoticed", async () => {
  const columns = await base.db.$queryRaw<{ table: string; name: string }[]>`
    SELECT table_name AS "table", column_name AS name FROM information_schema.columns
    WHERE table_schema = 'public'`;
  const kept = columns.filter(({ table, name }) => {
    const found = archived.find((one) => one.name === table);
    return found && found.without?.[name] === undefined;
  });
  const suspicious = kept
    .filter(({ name }) =>
      /hash|token|secret|pass|pin|iban|bic|account_number|routing|address/.test(name),
    )
    .map(({ table, name }) => `${table}.${name}`);
  // The guild's own address stands on receipts; the kind of a posting's account is no bank's.
  expect(suspicious).toEqual(["guild.address"]);
});

test("each table comes after those that it points to, and its rows have one order", async () => {
  const arrows = await base.db.$queryRaw<{ child: string; parent: string }[]>`
    SELECT conrelid::regclass::text AS child, confrelid::regclass::text AS parent
    FROM pg_constraint WHERE contype = 'f' AND conrelid <> confrelid`;
  const wrong = arrows.filter(
    ({ child, parent }) =>
      names.includes(child) && names.indexOf(child) < names.indexOf(parent || child),
  );
  expect(wrong).toEqual([]);
  const unique = await base.db.$queryRaw<{ table: string; columns: string[] }[]>`
    SELECT i.indrelid::regclass::text AS "table", array_agg(a.attname::text) AS columns
    FROM pg_index i JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = ANY (i.indkey)
    WHERE i.indisunique AND i.indpred IS NULL GROUP BY i.indexrelid, i.indrelid`;
  const loose = archived.filter(
    ({ name, order }) =>
      !unique.some(
        ({ table, columns }) => table === name && columns.every((one) => order.includes(one)),
      ),
  );
  expect(loose.map(({ name }) => name)).toEqual([]);
});
