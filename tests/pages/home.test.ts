import { afterAll, beforeAll, expect, test } from "vitest";
import type { SaleRead } from "../../src/database/sales.ts";
import { type Standing, tasksFor } from "../../src/pages/home/tasks.ts";
import type { Role } from "../../src/rules/roles.ts";
import { type Stage, stages } from "../../src/rules/sale-stage.ts";
import { signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";

let base: TestApp;
beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
});
afterAll(() => base.close());

const saleAt = (stage: Stage, id = "s") =>
  ({ id, name: "Fair", stage, entryDeadline: "2026-11-21T05:59:00Z" }) as SaleRead;
const standing = (stage: Stage | null, more: Partial<Standing> = {}): Standing => ({
  busy: stage ? [saleAt(stage)] : [],
  planned: null,
  region: { locale: "en-US", timeZone: "America/Chicago" },
  myItems: 2,
  mySold: 1,
  accepted: true,
  ...more,
});
const linkOf = (role: Role, now: Standing) => tasksFor([role], now)[0]?.href;

test("a member is led to agree, then to enter, then to look", () => {
  expect(linkOf("member", standing("entries-open", { accepted: false }))).toBe(
    "/sales/s/agreement",
  );
  expect(linkOf("member", standing("entries-open"))).toBe("/items");
  expect(linkOf("member", standing("selling"))).toBe("/results");
  expect(linkOf("member", standing(null))).toBeUndefined();
  expect(tasksFor(["member"], standing("entries-open"))[0]?.text).toContain("2 items");
});

test.each<[Role, string, Stage[]]>([
  ["desk", "/desk", ["entries-closed", "selling", "settling"]],
  ["cashier", "/till", ["selling"]],
  ["treasurer", "/books", ["selling", "settling"]],
])("the %s is led to %s exactly when there is work", (role, href, working) => {
  for (const stage of stages)
    expect(linkOf(role, standing(stage)), stage).toBe(working.includes(stage) ? href : undefined);
});

test("the chair is led to the next step, or to the first plan", () => {
  expect(linkOf("chair", standing(null))).toBe("/sales/new");
  expect(tasksFor(["chair"], standing("selling"))[0]?.text).toContain("end selling");
  const planned = saleAt("planning", "p");
  expect(linkOf("chair", standing(null, { planned }))).toBe("/sales/p");
});

test("entries for the next sale hide nothing of the one that still has to be finished", () => {
  const both = standing(null, { busy: [saleAt("entries-open", "new"), saleAt("settling", "old")] });
  expect(linkOf("member", both)).toBe("/items");
  expect(linkOf("desk", both)).toBe("/desk");
  expect(tasksFor(["treasurer"], both)[0]?.text).toContain("Selling is over");
  expect(linkOf("chair", both)).toBe("/sales/old");
  expect(linkOf("cashier", both)).toBeUndefined();
});

test("the first page greets by name and shows the sale that is on", async () => {
  const person = await signedIn(base, await buildMember(base.db, ["member"], { name: "Wilma" }));
  expect((await person.visit("/")).text).toContain("No sale is on just now");
  await buildSale(base.db, { name: "Old fair", stage: "closed" });
  await buildSale(base.db, { name: "Winter fair" });
  const page = await person.visit("/");
  expect(page.text).toContain("Hello, Wilma");
  expect(page.text).toContain("Winter fair");
  expect(page.text).toContain("Read and agree");
});

test("a refusal leads back to the page it came from, and never to another site", async () => {
  const person = await signedIn(base, await buildMember(base.db));
  const { host } = new URL((await person.visit("/help")).request.url);
  const refused = (referer: string) => person.visit("/members").set("referer", referer);
  const own = await refused(`http://${host}/items?sale=1`);
  expect(own.status).toBe(403);
  expect(own.text).toContain('href="/items?sale&#x3D;1">Back to where I was');
  for (const strange of ["http://elsewhere.example/items", "no address"])
    expect((await refused(strange)).text).not.toContain("Back to where I was");
});
