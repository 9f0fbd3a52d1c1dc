import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { moveTo } from "../support/build-items.ts";
import { buildHelpers, type Helpers, hoursPolicy, plan } from "../support/build-shifts.ts";
import { errorLinks } from "../support/html.ts";

let base: TestApp;
let people: Helpers;
let treasurer: Client;
let desk: Client;
beforeAll(async () => {
  base = await startApp();
  people = await buildHelpers(base.db);
  await hoursPolicy(base.db, people.sale.id);
  treasurer = await signedIn(base, people.treasurer);
  desk = await signedIn(base, people.desk);
});
afterAll(() => base.close());

const at = (rest = "") => `/sales/${people.sale.id}/sellers${rest}`;
const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");

test("nobody sells yet, and all members are a touch away", async () => {
  expect(read((await treasurer.visit(at())).text)).toContain("Nobody sells here yet");
  const all = read((await treasurer.visit(at("?show=all"))).text);
  expect(all).toContain("100 Weaver 100 The guild keeps 30 %: under 2 hours of work.");
  expect(read((await treasurer.visit(at("?q=loom"))).text)).toContain("Nobody found");
});

test("several are noted at once, and what was ticked stays when something is wrong", async () => {
  const memberIds = [people.weaver.id, people.other.id];
  const wrong = await treasurer.submit(at("?show=all"), { memberIds, change: "" });
  expect([wrong.status, errorLinks(wrong.text)]).toEqual([400, ["change"]]);
  expect(wrong.text.match(/type="checkbox"[^>]+checked/g)).toHaveLength(2);
  const none = await treasurer.submit(at(), { change: "committee:yes" });
  expect([none.status, errorLinks(none.text)]).toEqual([400, ["memberIds"]]);
  const done = await treasurer.submit(at("?show=all"), { memberIds, change: "committee:yes" });
  expect([done.status, done.headers.location]).toEqual([303, at("?show=all")]);
  const words = read((await treasurer.visit(at())).text);
  expect(words.match(/10 %: on the committee/g)).toHaveLength(2);
  await treasurer.submit(at(), { memberIds: people.other.id, change: "committee:no" });
  await treasurer.submit(at(), { memberIds: people.other.id, change: "class:honorary" });
  expect(read((await treasurer.visit(at())).text)).toContain("5 %: Honorary members");
});

test("one member's terms show the percentage, its reason and the hours", async () => {
  const { id } = await plan(base.db, people);
  const ticked = { mark: "worked", minutesWorked: 150, markedById: people.desk.id };
  await base.db.shift.update({ where: { id }, data: { ...ticked, markedAt: new Date() } });
  const path = at(`/${people.weaver.id}`);
  const page = read((await treasurer.visit(path)).text);
  for (const text of ["10 %: on the committee", "Hours worked 2 h 30 min", "Honorary members"])
    expect(page).toContain(text);
  const terms = { classCode: "", payMethod: "transfer", payAll: "yes", version: "2" };
  const wrong = await treasurer.submit(path, { ...terms, payMethod: "gold" });
  expect([wrong.status, errorLinks(wrong.text)]).toEqual([400, ["payMethod"]]);
  expect(wrong.text).toMatch(/name="payAll"[^>]+checked/);
  expect((await treasurer.submit(path, terms)).status).toBe(303);
  const words = read((await treasurer.visit(at())).text);
  expect(words).toContain("20 %: 2 hours of work or more. Worked 2 h 30 min.");
  expect(words).toContain("Paid by transfer");
  expect((await treasurer.submit(path, terms)).status).toBe(409);
});

test("the desk does not get at terms, and a closed sale keeps them", async () => {
  expect((await desk.visit(at())).status).toBe(403);
  expect((await desk.submit(at(), {})).status).toBe(403);
  expect((await treasurer.visit(at(`/${v7()}`))).status).toBe(404);
  await moveTo(base.db, people.sale, "closed");
  const { text } = await treasurer.visit(at());
  expect(text).not.toContain('type="checkbox"');
  const change = { memberIds: people.other.id, change: "visitor:yes" };
  expect((await treasurer.submit(at(), change)).status).toBe(409);
});
