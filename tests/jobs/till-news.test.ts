import pg from "pg";
import { afterAll, beforeAll, expect, test } from "vitest";
import { announceTillChange } from "../../src/database/till-announce.ts";
import { startTillNews } from "../../src/jobs/till-news.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let admin: pg.Client;
beforeAll(async () => {
  base = await freshDatabase();
  admin = new pg.Client({ connectionString: base.url });
  await admin.connect();
});
afterAll(async () => {
  await admin.end();
  await base.drop();
});

async function until(holds: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await holds())) await new Promise((resolve) => setTimeout(resolve, 10));
}
const listeners = async (): Promise<number> => {
  const { rows } = await admin.query(
    "SELECT pid FROM pg_stat_activity WHERE datname = current_database() AND application_name = 'thrumbook till news'",
  );
  return rows.length;
};

test("news reach every listener until it stops listening", async () => {
  const news = startTillNews(base.url);
  const heard = { one: 0, two: 0 };
  const forget = news.listen(() => (heard.one += 1));
  news.listen(() => (heard.two += 1));
  // It calls once when its line is up, since something may have come before.
  await until(() => heard.one > 0 && heard.two > 0);
  const before = { ...heard };
  await admin.query("NOTIFY till_change");
  await until(() => heard.one > before.one && heard.two > before.two);
  forget();
  const { one, two } = heard;
  await admin.query("NOTIFY till_change");
  await until(() => heard.two > two);
  expect([heard.one, news.count()]).toEqual([one, 1]);
  await news.stop();
  expect(news.count()).toBe(0);
  await until(async () => (await listeners()) === 0);
});

test("no connection is opened before somebody listens, nor after the stop", async () => {
  const news = startTillNews(base.url);
  expect(await listeners()).toBe(0);
  await news.stop();
  news.listen(() => {});
  expect(await listeners()).toBe(0);
});

test("a broken line is opened again, and everybody is called for what was missed", async () => {
  const failures: unknown[] = [];
  const news = startTillNews(base.url, (error) => failures.push(error));
  let heard = 0;
  news.listen(() => (heard += 1));
  await until(() => heard > 0);
  const before = heard;
  await admin.query(
    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND application_name = 'thrumbook till news'",
  );
  await until(() => heard > before);
  expect(failures).toHaveLength(1);
  const again = heard;
  await admin.query("NOTIFY till_change");
  await until(() => heard > again);
  expect(await listeners()).toBe(1);
  await news.stop();
});

test("many changes at once are told together, and the last of them too", async () => {
  let told = 0;
  await admin.query("LISTEN till_change");
  admin.on("notification", () => (told += 1));
  for (let index = 0; index < 200; index += 1) announceTillChange(base.db);
  await until(() => told > 0);
  // Whatever was told so far, a change after it is told again.
  const before = told;
  announceTillChange(base.db);
  await until(() => told > before);
  expect(told).toBeLessThan(20);
});

test("without an address there is no news, only the list of listeners", async () => {
  const news = startTillNews(undefined);
  const forget = news.listen(() => {});
  expect(news.count()).toBe(1);
  forget();
  expect(news.count()).toBe(0);
  await news.stop();
});
