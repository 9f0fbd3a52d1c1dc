import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../../support/app.ts";
import { buildSale } from "../../support/build.ts";
import { moveTo } from "../../support/build-items.ts";
import { buildHelpers, type Helpers, plan } from "../../support/build-shifts.ts";
import { errorLinks } from "../../support/html.ts";

let base: TestApp;
let people: Helpers;
let desk: Client;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  people = await buildHelpers(base.db);
  [desk, treasurer, weaver] = (await Promise.all(
    [people.desk, people.treasurer, people.weaver].map((one) => signedIn(base, one)),
  )) as [Client, Client, Client];
  // Friday, 11:00 on the guild's clock.
  base.at(new Date("2026-11-27T17:00:00Z"));
});
afterAll(() => base.close());

const at = (rest = "") => `/sales/${people.sale.id}/shifts${rest}`;
const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const typed = (more: object = {}) => ({
  member: String(people.weaver.number),
  ...{ day: "2026-11-27", start: "10:00", end: "12:00", task: "Greeter", standIn: "", ...more },
});

test("an empty list says what to do, and only to those who may plan", async () => {
  const { text } = await desk.visit(at());
  expect(read(text)).toContain("No shift yet Plan who helps when.");
  expect(read((await treasurer.visit(at())).text)).toContain("The chair or the desk plans");
});

test("the desk plans a shift, on and on, and a wrong one comes back as it was typed", async () => {
  const wrong = await desk.submit(at(), typed({ end: "10:00", task: "Greet & smile" }));
  expect(wrong.status).toBe(400);
  expect(errorLinks(wrong.text)).toEqual(["end"]);
  expect(wrong.text).toContain('value="Greet &amp; smile"');
  const empty = await desk.submit(at(), {});
  expect(errorLinks(empty.text)).toEqual(["member", "day", "start", "end", "task"]);
  const good = await desk.submit(at(), typed({ go: "another" }));
  expect([good.status, good.headers.location]).toEqual([303, at("/new")]);
  await desk.submit(at(), typed({ day: "11/28/2026", start: "10 PM", end: "1 am" }));
  const words = read((await desk.visit(at("?show=all"))).text);
  expect(words).toMatch(/Friday, Nov 27, 2026 .*10:00 AM – 12:00 PM Greeter/);
  expect(words).toMatch(/Saturday, Nov 28, 2026 .*10:00 PM – 1:00 AM on Sunday Greeter/);
});

test("today comes first and is ticked with one touch; the list stays where it was", async () => {
  const { text } = await desk.visit(at());
  expect(read(text)).toContain("Worked 2 h");
  expect(read(text)).not.toContain("Saturday");
  const [, action = ""] = /action="([^"]+\/tick[^"]*)"/.exec(text) ?? [];
  const path = action.replaceAll("&#x3D;", "=").replaceAll("&amp;", "&");
  const fields = { version: "1", worked: "120 min", mark: "worked" };
  const key = v7();
  const done = await desk.submit(path, fields, key);
  expect(done.headers.location).toMatch(/\?show=today#s-/);
  expect((await desk.submit(path, fields, key)).status).toBe(303);
  const words = read((await desk.visit(at())).text);
  expect(words).toContain("Worked 2 h Weaver");
  expect(words).toContain(`${people.desk.name}, Nov 27, 2026, 11:00 AM`);
  expect(words).toMatch(/Not ticked yet 1/);
  const late = await desk.submit(path, { ...fields, mark: "missed" });
  expect(late.status).toBe(409);
  expect(read(late.text)).toContain("Somebody changed this meanwhile");
});

describe("one shift", () => {
  let id: string;
  beforeAll(async () => {
    const shift = { day: "2026-11-29", start: "13:00", end: "16:00" };
    id = (await plan(base.db, people, shift)).id;
  });
  const version = async () => (await base.db.shift.findUniqueOrThrow({ where: { id } })).version;

  test("is ticked with the time really worked, offered from the plan", async () => {
    const page = await desk.visit(at(`/${id}`));
    expect(page.text).toMatch(/name="worked"[^>]+value="3:00"/);
    const wrong = await desk.submit(at(`/${id}/tick`), {
      ...{ mark: "worked", worked: "2:75", version: "1" },
    });
    expect([wrong.status, errorLinks(wrong.text)]).toEqual([400, ["worked"]]);
    expect(wrong.text).toContain('value="2:75"');
    const tick = { mark: "worked", worked: "2:45", version: "1" };
    expect((await desk.submit(at(`/${id}/tick`), tick)).status).toBe(303);
    const words = read((await desk.visit(at(`/${id}`))).text);
    expect(words).toContain("Worked 2 h 45 min");
    expect(words).toContain("Correct the tick");
    expect(words).not.toContain("Change the plan");
  });

  test("is changed and taken off the list once the tick is off", async () => {
    const open = { mark: "open", worked: "", version: String(await version()) };
    await desk.submit(at(`/${id}/tick`), open);
    const change = { ...typed({ day: "2026-11-29", task: "Wrapping" }), version: "9" };
    expect((await desk.submit(at(`/${id}`), change)).status).toBe(409);
    const now = { ...change, version: String(await version()) };
    expect((await desk.submit(at(`/${id}`), now)).status).toBe(303);
    expect(read((await desk.visit(at(`/${id}`))).text)).toContain("Wrapping");
    const off = { version: String(await version()) };
    expect((await desk.submit(at(`/${id}/withdrawal`), off)).headers.location).toBe(at());
    expect((await desk.visit(at(`/${id}`))).status).toBe(404);
  });
});

test("pasted rows are shown one by one and planned when they are good", async () => {
  const text = `${people.other.number}\t2026-11-27\t9:00\t12:00\tCashier\nNobody\t2026-11-27\t9:00\t12:00\tCashier`;
  const preview = await desk.submit(at("/many"), { text });
  expect(read(preview.text)).toMatch(/Is planned .*Left out The first column needs/);
  expect(read(preview.text)).toContain("Plan 1 shift");
  expect((await desk.submit(at("/many/apply"), { text })).status).toBe(303);
  const none = await desk.submit(at("/many/apply"), { text });
  expect([none.status, errorLinks(none.text)]).toEqual([400, ["text"]]);
  expect(errorLinks((await desk.submit(at("/many"), { text: " " })).text)).toEqual(["text"]);
});

test("the list searches, pages and says when it finds nothing", async () => {
  expect(read((await desk.visit(at("?q=cashier"))).text)).toContain("Cashier");
  expect(read((await desk.visit(at("?q=loom"))).text)).toContain("No shift found");
  const rows = Array.from({ length: 45 }, (_, index) => ({
    ...{ saleId: people.sale.id, memberId: people.other.id, task: `Task ${index}`, minutes: 30 },
    ...{ startsAt: new Date(Date.UTC(2026, 10, 20, 0, index)), byId: people.desk.id },
  }));
  await base.db.shift.createMany({ data: rows });
  const first = (await desk.visit(at("?q=task&show=all"))).text;
  const [, next = ""] = /href="([^"]+)" rel="next"/.exec(first) ?? [];
  const second = await desk.visit(next.replaceAll("&#x3D;", "=").replaceAll("&amp;", "&"));
  expect([first, second.text].map((text) => text.match(/class="shift"/g)?.length)).toEqual([40, 5]);
});

test("the table for a spreadsheet is on the guild's clock and runs no formula", async () => {
  await plan(base.db, people, { day: "2026-11-28", start: "08:00", end: "09:00", task: "=1+1" });
  const { text, headers } = await treasurer.visit(`/sales/${people.sale.id}/shifts.csv`);
  expect(headers["content-type"]).toBe("text/csv; charset=utf-8");
  const lines = text.split("\r\n");
  expect(lines[0]).toMatch(/^Member number,Member,Day,Start,End,Task/);
  expect(text).toContain(
    `${people.weaver.number},${people.weaver.name},2026-11-27,10:00,12:00,Greeter,,120,worked,120,${people.desk.name},2026-11-27 11:00`,
  );
  expect(text).toContain("2026-11-28,22:00,01:00,Greeter,,180,,,,");
  expect(text).toContain(",'=1+1,");
});

describe("a member", () => {
  test("sees the own shifts and hours, and nobody else's", async () => {
    const words = read((await weaver.visit("/shifts")).text);
    expect(words).toContain("Worked at Autumn sale 2 h");
    expect(words).toContain("10:00 AM – 12:00 PM Greeter");
    expect(words).not.toContain("Task 1");
    const home = read((await weaver.visit("/")).text);
    expect(home).toContain("Your next shifts Saturday, Nov 28, 2026");
    const own = await weaver.get("/api/me/shifts");
    expect(own.body.hours).toMatchObject([{ saleName: "Autumn sale", minutesWorked: 120 }]);
    expect(read((await treasurer.visit("/shifts")).text)).toContain("No shift of yours yet");
  });

  test("does not get near the lists, and shifts of another sale are not found", async () => {
    const { id } = await base.db.shift.findFirstOrThrow();
    for (const path of [at(), at("/new"), at("/many"), at(`/${id}`), `${at()}.csv`])
      expect((await weaver.visit(path)).status).toBe(403);
    expect((await weaver.submit(at(`/${id}/tick`), {})).status).toBe(403);
    expect((await treasurer.submit(at(), typed())).status).toBe(403);
    const other = await buildSale(base.db, { name: "Spring sale" });
    expect((await desk.visit(`/sales/${other.id}/shifts/${id}`)).status).toBe(404);
    expect((await desk.visit(at(`/${v7()}`))).status).toBe(404);
    expect((await desk.visit(at("/not-an-id"))).status).toBe(404);
  });
});

test("of a closed sale the shifts can be read and not changed", async () => {
  await moveTo(base.db, people.sale, "closed");
  const { text } = await desk.visit(at("?show=all"));
  expect(text).not.toContain("/tick");
  expect(read(text)).toContain("Not ticked yet");
  expect((await desk.submit(at(), typed({ start: "15:00", end: "16:00" }))).status).toBe(409);
});
