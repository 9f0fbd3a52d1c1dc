import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildSale } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { buildHelpers, type Helpers } from "../support/build-shifts.ts";
import { errorLinks } from "../support/html.ts";

let base: TestApp;
let people: Helpers;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  people = await buildHelpers(base.db);
  treasurer = await signedIn(base, people.treasurer);
  weaver = await signedIn(base, people.weaver);
});
afterAll(() => base.close());

const at = (rest = "") => `/books/${people.sale.id}/adjustments${rest}`;
const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const given = (more: object = {}) => ({
  ...{ member: String(people.weaver.number), amount: "12.50", way: "for" },
  ...{ reason: "Brought 5 tables in her van", ...more },
});

test("an empty list says what an adjustment is for", async () => {
  expect(read((await treasurer.visit(at())).text)).toContain("No adjustment yet Record one when");
});

test.each<[object, string[]]>([
  [{ member: "" }, ["member"]],
  [{ member: "9999" }, ["member"]],
  [{ amount: "0" }, ["amount"]],
  [{ amount: "-3" }, ["amount"]],
  [{ amount: "1,234" }, ["amount"]],
  [{ amount: "9999999" }, ["amount"]],
  [{ way: "" }, ["way"]],
  [{ reason: " " }, ["reason"]],
])("a form with %j comes back with what was typed, at %j", async (wrong, named) => {
  const answer = await treasurer.submit(at(), given({ ...wrong }));
  expect([answer.status, errorLinks(answer.text)]).toEqual([400, named]);
  if (!("reason" in wrong)) expect(answer.text).toContain("Brought 5 tables in her van");
  expect(await base.db.adjustment.count()).toBe(0);
});

test("one for and one from a member stand in the list and in the books", async () => {
  const key = v7();
  await treasurer.submit(at(), given(), key);
  await treasurer.submit(at(), given(), key);
  await treasurer.submit(at(), given({ way: "from", amount: "4", reason: "Lost key" }));
  const words = read((await treasurer.visit(at())).text);
  expect(words).toContain("$4.00 from 100 Weaver 100 Lost key Comes on the next settlement.");
  expect(words).toContain("$12.50 for 100 Weaver 100 Brought 5 tables");
  const journal = read((await treasurer.visit("/books/journal")).text);
  expect(journal).toContain("Adjustment for member 100: Lost key");
  expect(read((await treasurer.visit(at("?q=tables"))).text)).not.toContain("Lost key");
  expect(read((await treasurer.visit(at("?q=loom"))).text)).toContain("Nothing found");
});

test("one is taken back with a reason, once", async () => {
  const { id } = await base.db.adjustment.findFirstOrThrow({ where: { reason: "Lost key" } });
  const open = await treasurer.visit(at(`?back=${id}`));
  expect(read(open.text)).toContain("Why is it taken back");
  const without = await treasurer.submit(at(`/${id}/opposite`), { reason: "" });
  expect([without.status, errorLinks(without.text)]).toEqual([400, ["reason"]]);
  const done = await treasurer.submit(at(`/${id}/opposite`), { reason: "Key was found" });
  expect(done.status).toBe(303);
  expect((await treasurer.submit(at(`/${id}/opposite`), { reason: "Again" })).status).toBe(409);
  const words = read((await treasurer.visit(at())).text);
  expect(words).toContain("Takes an earlier one back");
  expect(words).toContain("Taken back");
});

test("members do not get near, and those of another sale are not found", async () => {
  const { id } = await base.db.adjustment.findFirstOrThrow();
  expect((await weaver.visit(at())).status).toBe(403);
  expect((await weaver.submit(at(), given())).status).toBe(403);
  const other = await buildSale(base.db, { stage: "selling" });
  const elsewhere = `/books/${other.id}/adjustments/${id}/opposite`;
  expect((await treasurer.submit(elsewhere, { reason: "x" })).status).toBe(404);
  expect((await treasurer.visit(`/books/${v7()}/adjustments`)).status).toBe(404);
});

test("a closed sale shows its adjustments and takes none", async () => {
  await moveTo(base.db, people.sale, "closed");
  const { text } = await treasurer.visit(at());
  expect(text).not.toContain("Record the adjustment");
  expect(read(text)).toContain("Lost key");
  expect((await treasurer.submit(at(), given())).status).toBe(409);
});
