import { setTimeout as wait } from "node:timers/promises";
import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { pagesOf, readBars } from "../support/pdf.ts";

let base: TestApp;
let own: Client;
let other: Client;
let desk: Client;
let sale: { id: string };
let tag: string;
let number: number;

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  const member = await buildMember(base.db);
  number = member.number;
  own = await signedIn(base, member);
  other = await signedIn(base, await buildMember(base.db));
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  sale = await buildSale(base.db);
  tag = (await enter(base.db, member, sale, { quantity: 3 })).tag;
});
afterAll(() => base.close());

const prints = () => `/api/sales/${sale.id}/prints`;

async function ended(client: Client, id: string) {
  for (;;) {
    const { body } = await client.get(`/api/prints/${id}`);
    if (body.endedAt) return body;
    await wait(50);
  }
}

test("a print is asked for, made, fetched and counted; asked twice with one key it is one", async () => {
  expect((await own.get(`${prints()}/counts`)).body).toEqual({ new: 1, changed: 0, all: 1 });
  const key = v7();
  const order = { stock: "roll-58", code: "both" };
  const both = await Promise.all([own.post(prints(), order, key), own.post(prints(), order, key)]);
  expect(both.map(({ status }) => status)).toEqual([201, 201]);
  expect(both[0]?.body.id).toBe(both[1]?.body.id);
  const done = await ended(own, both[0]?.body.id);
  expect(done).toMatchObject({ state: "ready", total: 3, done: 3, kept: true });
  const file = await own.get(`/api/prints/${done.id}/file`).responseType("blob");
  const pages = await pagesOf(file.body as Uint8Array);
  expect(pages).toHaveLength(3);
  expect((await readBars(pages[0]!, 300)).map(({ text }) => text)).toContain(tag);
  expect((await own.get(`${prints()}/counts`)).body).toEqual({ new: 0, changed: 0, all: 1 });
  expect((await own.post(prints(), order)).body.code).toBe("already-done");
  const again = await own.post(prints(), { ...order, which: "all" });
  expect(again.status).toBe(201);
  expect(await base.db.tagPrint.count({ where: { again: true } })).toBe(1);
  const stopped = await own.post(`/api/prints/${done.id}/cancellation`);
  expect(stopped.body.code).toBe("already-done");
});

test("another member's prints and tags answer like unknown ones", async () => {
  const made = await own.post(prints(), { stock: "letter-10", which: "all" });
  const path = `/api/prints/${made.body.id}`;
  await ended(own, made.body.id);
  expect((await other.get(path)).status).toBe(404);
  expect((await other.get(`${path}/file`)).status).toBe(404);
  expect((await other.post(`${path}/cancellation`)).status).toBe(404);
  expect((await desk.get(path)).status).toBe(200);
  expect((await other.post(prints(), { stock: "letter-10", member: number })).status).toBe(404);
  expect((await other.get(`${prints()}/counts?member=${number}`)).status).toBe(404);
  expect((await own.get(`/api/prints/${v7()}`)).status).toBe(404);
});

test.each<[object, string]>([
  [{}, "stock"],
  [{ stock: "napkin" }, "stock"],
  [{ stock: "care-strip" }, "stock"],
  [{ stock: "letter-10", what: "care-strip" }, "stock"],
  [{ stock: "letter-10", start: 11 }, "start"],
  [{ stock: "letter-10", start: 1.5 }, "start"],
  [{ stock: "letter-10", start: -1 }, "start"],
  [{ stock: "letter-10", skip: [0] }, "skip.0"],
  [{ stock: "letter-10", skip: [12] }, "skip"],
  [{ stock: "letter-10", which: "some" }, "which"],
  [{ stock: "letter-10", each: "yes" }, "each"],
])("%j is refused, and the field is named", async (body, field) => {
  const answer = await own.post(prints(), { which: "all", ...body });
  expect(answer.status).toBe(400);
  expect(answer.body.errors.map((error: { field: string }) => error.field)).toContain(field);
});
