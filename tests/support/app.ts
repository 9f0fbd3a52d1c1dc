import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import supertest from "supertest";
import { v7 } from "uuid";
import { buildApp } from "../../src/app.ts";
import { formToken, hashToken, randomToken } from "../../src/plugins/session/tokens.ts";
import type { App } from "../../src/plugins/types.ts";
import { readSettings } from "../../src/settings.ts";
import { freshDatabase, type TestDatabase } from "./database.ts";

export const secret = "only the tests sign with this secret, forty";

export interface TestApp extends TestDatabase {
  app: App;
  /** Moves the clock of the app. */
  at(date: Date): void;
  close(): Promise<void>;
}

/** The whole service on a database of its own, listening on a free port. */
export async function startApp(environment: NodeJS.ProcessEnv = {}): Promise<TestApp> {
  const base = await freshDatabase();
  let now: Date | undefined;
  const folder = await mkdtemp(join(tmpdir(), "thrumbook-app-"));
  const settings = readSettings({ DATA_DIR: folder, ...environment });
  const app = await buildApp({
    settings,
    db: base.db,
    databaseUrl: base.url,
    secret,
    now: () => now ?? new Date(),
  });
  await app.listen({ port: 0, host: "127.0.0.1" });
  return {
    ...base,
    app,
    at: (date) => {
      now = date;
    },
    close: async () => {
      await app.close();
      await base.drop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** A signed-in browser and API client in one: the same person, cookie for pages, bearer for the API. */
export async function signedIn({ app, db }: TestApp, member: { id: string }) {
  const session = await db.session.create({
    data: {
      memberId: member.id,
      refreshHash: hashToken(randomToken()),
      expiresAt: new Date(Date.now() + 86_400_000 * 40),
    },
  });
  const token = app.jwt.sign({ sub: member.id, sid: session.id });
  const cookie = `thrumbook-access=${token}`;
  const csrf = formToken(secret, session.id);
  const bearer = `Bearer ${token}`;
  return {
    token,
    sessionId: session.id,
    csrf,
    cookie,
    /** Opens a page. */
    visit: (path: string) => supertest(app.server).get(path).set("cookie", cookie),
    /** Sends a form as a browser would, with its tokens. */
    submit: (path: string, fields: Record<string, unknown> = {}, key: string = v7()) =>
      supertest(app.server)
        .post(path)
        .set("cookie", cookie)
        .type("form")
        .send({ _csrf: csrf, _key: key, ...fields }),
    /** Sends a form with a file, as a browser does. */
    upload: (path: string, fields: Record<string, string>, file: string | Buffer, key = v7()) => {
      const request = supertest(app.server)
        .post(path)
        .set("cookie", cookie)
        .field({ _csrf: csrf, _key: key, ...fields });
      return file instanceof Buffer ? request.attach("file", file, "list.csv") : request;
    },
    /** Calls the API with a bearer token. */
    get: (path: string) => supertest(app.server).get(path).set("authorization", bearer),
    post: (path: string, body: object = {}, key: string = v7()) =>
      supertest(app.server)
        .post(path)
        .set("authorization", bearer)
        .set("idempotency-key", `"${key}"`)
        .send(body),
    patch: (path: string, body: object = {}, key: string = v7()) =>
      supertest(app.server)
        .patch(path)
        .set("authorization", bearer)
        .set("idempotency-key", `"${key}"`)
        .send(body),
    put: (path: string, body: object = {}, key: string = v7()) =>
      supertest(app.server)
        .put(path)
        .set("authorization", bearer)
        .set("idempotency-key", `"${key}"`)
        .send(body),
    delete: (path: string, key: string = v7()) =>
      supertest(app.server)
        .delete(path)
        .set("authorization", bearer)
        .set("idempotency-key", `"${key}"`),
  };
}

export type Client = Awaited<ReturnType<typeof signedIn>>;
