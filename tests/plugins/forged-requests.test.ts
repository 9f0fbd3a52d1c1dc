import supertest from "supertest";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember } from "../support/build.ts";

let base: TestApp;
let chair: Client;
let other: Client;

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
  other = await signedIn(base, await buildMember(base.db, ["chair"]));
});
afterAll(() => base.close());

let tries = 0;
const send = (fields: object, headers: Record<string, string> = {}, cookie = chair.cookie) => {
  tries += 1;
  return supertest(base.app.server)
    .post("/kinds")
    .set({ cookie, ...headers })
    .type("form")
    .send({ name: `Kind ${tries}`, ...fields });
};
const kinds = () => base.db.kind.count();

test("a form of our own page counts", async () => {
  const before = await kinds();
  expect((await send({ _csrf: chair.csrf })).status).toBe(303);
  expect((await send({ _csrf: chair.csrf }, { "sec-fetch-site": "same-origin" })).status).toBe(303);
  const { host } = new URL(
    `http://127.0.0.1:${(base.app.server.address() as { port: number }).port}`,
  );
  expect((await send({ _csrf: chair.csrf }, { origin: `http://${host}` })).status).toBe(303);
  expect((await send({}, { "x-form-token": chair.csrf })).status).toBe(303);
  expect(await kinds()).toBe(before + 4);
});

test("whatever another site could send does nothing", async () => {
  const before = await kinds();
  const answers = await Promise.all([
    send({}),
    send({ _csrf: "" }),
    send({ _csrf: [chair.csrf, chair.csrf] }),
    send({ _csrf: other.csrf }),
    send({ _csrf: `${chair.csrf}x` }),
    send({ _csrf: chair.csrf }, { "sec-fetch-site": "cross-site" }),
    send({ _csrf: chair.csrf }, { "sec-fetch-site": "same-site" }),
    send({ _csrf: chair.csrf }, { origin: "https://evil.example" }),
    send({ _csrf: chair.csrf }, { origin: "null" }),
  ]);
  expect(answers.map(({ status }) => status)).toEqual(answers.map(() => 403));
  expect(await kinds()).toBe(before);
});

test("the API does not act on a cookie without the token either", async () => {
  const before = await kinds();
  const answer = await supertest(base.app.server)
    .post("/api/kinds")
    .set({ cookie: chair.cookie, "idempotency-key": '"forged-1"' })
    .send({ name: "Forged" });
  expect([answer.status, answer.body.code]).toEqual([403, "form-expired"]);
  expect(await kinds()).toBe(before);
});

test("a plain look changes nothing: GET never writes", async () => {
  const before = await base.db.audit.count();
  for (const path of ["/kinds", "/members", "/sales", "/guild", "/audit", "/"])
    expect((await chair.visit(path)).status).toBe(200);
  expect(await base.db.audit.count()).toBe(before);
});

test("the key of a form or a call is the only one that counts for its sender", async () => {
  const mine = await chair.submit("/kinds", { name: "Shared key" }, "the-same-key");
  const theirs = await other.submit("/kinds", { name: "Other content" }, "the-same-key");
  expect([mine.status, theirs.status]).toEqual([303, 303]);
});
