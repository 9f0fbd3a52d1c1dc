import { afterAll, beforeAll, expect, test } from "vitest";
import { buildApp } from "../src/app.ts";
import { makeLogger } from "../src/log.ts";
import type { App } from "../src/plugins/types.ts";
import { readSettings } from "../src/settings.ts";
import { secret } from "./support/app.ts";
import { buildGuild } from "./support/build.ts";
import { freshDatabase, type TestDatabase } from "./support/database.ts";

/** What a log must never hold, whatever went wrong while it was being handled. */
const canary = "canary-7450";

let base: TestDatabase;
let app: App;
let log = "";

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  const write = (line: string) => {
    log += line;
  };
  const logger = makeLogger({ logLevel: "debug" }, { write });
  app = await buildApp({ settings: readSettings({}), db: base.db, secret, logger });
  const open = { config: { access: "public" as const } };
  const row = { number: 100, name: canary, email: `${canary}@example.org`, roles: ["member"] };
  app.get("/mistaken-query", open, () =>
    base.db.member.create({ data: { ...row, nosuch: canary } as never }),
  );
  app.get("/broken-rule", open, () => base.db.member.create({ data: { ...row, number: 1 } }));
});
afterAll(async () => {
  await app.close();
  await base.drop();
});

test("neither names nor tokens nor pass phrases reach the log", async () => {
  const payload = { identifier: `${canary}@example.org`, passphrase: canary };
  await app.inject({ method: "POST", url: "/api/session", payload });
  await app.inject({ url: `/join/${canary}` });
  await app.inject({ url: `/letters/stop/${canary}` });
  await app.inject({ method: "POST", url: `/letters/again/${canary}` });
  await app.inject({ url: `/set-up/${canary}` });
  await app.inject({ url: `/members?q=${canary}`, headers: { authorization: `Bearer ${canary}` } });
  await app.inject({ url: "/sign-in", headers: { cookie: `thrumbook-refresh=${canary}` } });
  expect((await app.inject({ url: "/mistaken-query" })).statusCode).toBe(500);
  expect((await app.inject({ url: "/broken-rule" })).statusCode).toBe(500);
  expect(log).toContain("PrismaClientValidationError");
  expect(log).toContain("member_number");
  expect(log).toContain('"at":["    at ');
  expect(log).not.toContain(canary);
});
