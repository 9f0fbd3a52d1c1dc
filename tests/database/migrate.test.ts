import { afterAll, beforeAll, expect, test } from "vitest";
import { migrate } from "../../src/database/migrate.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
beforeAll(async () => {
  base = await freshDatabase();
});
afterAll(() => base.drop());

test("a second run applies nothing", async () => {
  expect(await migrate(base.url)).toEqual([]);
});

test("the guild's accounts are there", async () => {
  expect(await base.db.account.count()).toBe(20);
});
