import { randomBytes } from "node:crypto";
import supertest from "supertest";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildSettling } from "../support/build-settlement.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let chair: Client;

beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  chair = await signedIn(base, hall.chair);
});
afterAll(() => base.close());

test.each([
  ["too long", randomBytes(6_000).toString("base64")],
  ["with a space in it", "two words"],
])("a form whose key is %s is refused and nothing is recorded", async (_what, key) => {
  const before = await base.db.kind.count();
  expect((await chair.submit("/kinds", { name: "Wall hanging of its own" }, key)).status).toBe(400);
  expect(await base.db.kind.count()).toBe(before);
});

test("pages take forms only: JSON could put objects in the place of texts", async () => {
  const answer = await supertest(base.app.server)
    .post(`/receipts/${hall.receipts.first}/return`)
    .set({ cookie: chair.cookie, "x-form-token": chair.csrf })
    .send({ "back.1": { toString: 1 } });
  expect(answer.status).toBe(415);
  expect(answer.text).toContain("<!doctype html>");
});

test("only the list of members takes files: a stranger's parts are not read into memory", async () => {
  const answer = await supertest(base.app.server)
    .post("/sign-in")
    .field("identifier", "x".repeat(100_000))
    .field("passphrase", "y");
  expect(answer.status).toBe(415);
});

test("the way back from a refusal never leaves the site", async () => {
  const host = "hall.example.org";
  const back = async (referer: string) => {
    const answer = await chair.visit("/nowhere").set({ host, referer });
    return /href="([^"]+)">Back to where I was/.exec(answer.text)?.[1]?.replace("&#x3D;", "=");
  };
  expect(await back(`http://${host}//evil.example/x`)).toBeUndefined();
  expect(await back(`http://${host}/items?q=1`)).toBe("/items?q=1");
  expect(await back("http://evil.example/items")).toBeUndefined();
});
