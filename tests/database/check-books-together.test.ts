import { afterAll, beforeAll, expect, test } from "vitest";
import { checkBooks } from "../../src/database/check-books.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
beforeAll(async () => {
  base = await freshDatabase();
});
afterAll(() => base.drop());

test("many who check the books at once share one check; the next one looks afresh", async () => {
  const first = checkBooks(base.db);
  expect(checkBooks(base.db)).toBe(first);
  expect(await first).toMatchObject({ sound: true });
  const next = checkBooks(base.db);
  expect(next).not.toBe(first);
  expect(await next).toMatchObject({ sound: true });
});
