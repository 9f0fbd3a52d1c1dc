import pg from "pg";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openDatabase } from "../../src/database/client.ts";
import { workingUrl } from "../../src/database/working-role.ts";
import { buildSettling, settleNow } from "../support/build-settlement.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let url: string;
let client: pg.Client;
beforeAll(async () => {
  base = await freshDatabase();
  url = await workingUrl(base.url);
  client = new pg.Client({ connectionString: url });
  await client.connect();
});
afterAll(async () => {
  await client.end();
  await base.drop();
});

test("a whole sale is sold and settled in the working role", async () => {
  const db = openDatabase(url);
  try {
    const { rows } = await client.query("SELECT current_user AS who");
    expect(rows).toEqual([{ who: "thrumbook_app" }]);
    const done = await settleNow(db, await buildSettling(db));
    expect(done).toMatchObject({ state: "settled", statements: 2 });
  } finally {
    await db.$disconnect();
  }
});

/** What the service's own role tries, and what PostgreSQL says to it. */
test.each([
  ["UPDATE posting SET amount = 0", /posting rows are never changed or deleted/],
  ["DELETE FROM journal_entry", /journal_entry rows are never changed or deleted/],
  ["UPDATE statement_item SET amount = 1", undefined],
  ["UPDATE statement SET net = net + 1", /statement rows are never changed or deleted/],
  ["DELETE FROM sale_policy", /sale_policy rows are never changed or deleted/],
  ["TRUNCATE posting", /permission denied for table posting/],
  ["ALTER TABLE posting DISABLE TRIGGER keep_rows", /must be owner of table posting/],
  ["DROP TRIGGER keep_rows ON posting", /must be owner of relation posting/],
  ["ALTER TABLE statement DROP CONSTRAINT statement_adds_up", /must be owner of table statement/],
  ["SET session_replication_role = replica", /permission denied to set parameter/],
  ["SET ROLE thrumbook", /permission denied to set role/],
  [
    "CREATE OR REPLACE FUNCTION keep_as_recorded() RETURNS trigger LANGUAGE sql AS 'SELECT NULL'",
    /permission denied for schema public|must be owner of function/,
  ],
  ["DELETE FROM _prisma_migrations", /permission denied for table _prisma_migrations/],
  ["DROP TABLE posting CASCADE", /must be owner of table posting/],
])("%s changes nothing", async (sql, refusal) => {
  const before = await sums();
  if (refusal) await expect(client.query(sql)).rejects.toThrow(refusal);
  else expect((await client.query(sql)).rowCount).toBe(0);
  expect(await sums()).toEqual(before);
});

const sums = async () =>
  (
    await client.query(`SELECT (SELECT count(*) FROM posting) AS postings,
      (SELECT sum(abs(amount)) FROM posting) AS moved, (SELECT sum(net) FROM statement) AS net,
      (SELECT count(*) FROM sale_policy) AS policies`)
  ).rows;

test("it is the same role with the same key after a restart, also for two who start at once", async () => {
  const urls = await Promise.all([workingUrl(base.url), workingUrl(base.url)]);
  expect(urls).toEqual([url, url]);
});

test("an owner without a password works as before", async () => {
  const bare = new URL(base.url);
  bare.password = "";
  expect(await workingUrl(bare.href)).toBe(bare.href);
});
