import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { findLabel } from "../../../src/database/labels.ts";
import type { Client, TestApp } from "../../support/app.ts";
import { type Member, startAtEntry } from "../../support/at-entry.ts";
import { buildRun, buildSheet, buildWeft, buildYarn, pure } from "../../support/build-sheet.ts";
import { formFields } from "../../support/form.ts";
import { errorLinks, linksIn } from "../../support/html.ts";

/** From a kept sheet to items: two sorts of pieces that share one warp and differ in their weft. */
let base: TestApp;
let member: Member;
let own: Client;
let sale: { id: string };
let path: string;
let id: string;

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  const half = [
    { fibre: "cotton", percent: 60 },
    { fibre: "linen", percent: 40 },
  ];
  const sheet = buildSheet({
    yarns: [
      buildYarn(3_360, pure("cotton")),
      buildYarn(3_300, half),
      buildYarn(2_400, pure("linen")),
    ],
    runs: [
      buildRun(2, { loom: 36 }, [buildWeft(1, 20, 5)], { name: "Cottolin", kind: "towel" }),
      buildRun(3, { loom: 36 }, [buildWeft(2, 18, 5)], { name: "Linen" }),
    ],
  });
  const made = await own.post("/api/me/sheets", { name: "Two wefts", sheet });
  expect(made.status).toBe(201);
  id = made.body.id;
  path = `/bench/sheets/${id}`;
});
afterAll(() => base.close());

const labels = ["79% Cotton, 21% Linen", "57% Linen, 43% Cotton"];
const shownForm = async () => formFields((await own.visit(`${path}/enter`)).text, `${path}/enter`);
const filled = async (more: object = {}) => ({
  ...(await shownForm()),
  ...{ "rows.0.price": "28", "rows.1.price": "32.00", "rows.1.kind": "towel" },
  ...{ agreementVersion: "1", ...more },
});
const count = () => base.db.item.count({ where: { memberId: member.id } });

describe("entering the pieces of a sheet", () => {
  test("the form comes filled but for the price, and tells the label", async () => {
    const { text } = await own.visit(`${path}/enter`);
    for (const label of labels) expect(text).toContain(label);
    expect(linksIn(text)).toContain(`/bench/price?sheet=${id}&run=1`);
    expect(await shownForm()).toMatchObject({
      ...{ version: "1", sale: sale.id, "rows.0.on": "yes", "rows.1.on": "yes" },
      ...{ "rows.0.count": "2", "rows.0.tagging": "each", "rows.0.kind": "towel" },
      ...{ "rows.1.description": "Linen", "rows.1.kind": "", "rows.0.size": "22 × 36 in" },
    });
  });

  test.each<[string, object, string[]]>([
    ["no price", { "rows.1.price": "" }, ["rows.1.price"]],
    ["a price off the sale's steps", { "rows.1.price": "32.50" }, ["rows.1.price"]],
    ["no kind", { "rows.1.kind": "" }, ["rows.1.kind"]],
    ["no description", { "rows.0.description": "" }, ["rows.0.description"]],
    ["half a piece", { "rows.0.count": "0.5" }, ["rows.0.count"]],
    ["a way of tagging that is none", { "rows.0.tagging": "many" }, ["rows.0.tagging"]],
    ["no tick under the agreement", { agreementVersion: "" }, ["agreementVersion"]],
    ["nothing ticked", { "rows.0.on": "", "rows.1.on": "" }, ["rows.0.on"]],
  ])("%s is told at its field and everything typed stays", async (_words, wrong, fields) => {
    const typed = await filled({ "rows.0.colours": "Indigo", ...wrong });
    const before = await count();
    const answer = await own.submit(`${path}/enter`, typed);
    expect([answer.status, errorLinks(answer.text)]).toEqual([400, fields]);
    const again = formFields(answer.text, `${path}/enter`);
    expect(again).toMatchObject({ "rows.0.colours": "Indigo", "rows.0.price": "28" });
    expect(await count()).toBe(before);
  });

  test("a row that is not ticked stays at home, also when it is the first", async () => {
    const answer = await own.submit(`${path}/enter`, await filled({ "rows.0.on": "" }));
    expect(answer.status).toBe(303);
    const newest = await base.db.item.findMany({
      where: { memberId: member.id },
      orderBy: { number: "desc" },
      take: 3,
    });
    expect(newest.map(({ description }) => description)).toEqual(["Linen", "Linen", "Linen"]);
  });

  test("every tag prints the fibres that the sheet showed, also for two who press at once", async () => {
    const sheetPage = (await own.visit(path)).text;
    for (const label of labels) expect(sheetPage).toContain(label);
    const forms = [await filled(), await filled()];
    const first = await count();
    const both = await Promise.all(forms.map((fields) => own.submit(`${path}/enter`, fields)));
    expect(both.map(({ status }) => status)).toEqual([303, 303]);
    const items = await base.db.item.findMany({
      where: { memberId: member.id, number: { gt: first } },
    });
    expect(items).toHaveLength(10);
    for (const item of items) {
      const [said] = (await findLabel(base.db, item.id)).fibre.lines.map(({ text }) => text);
      expect(said).toBe(labels[item.description === "Cottolin" ? 0 : 1]);
    }
  });

  test("the page after it lists the tags and prints them with one press", async () => {
    const answer = await own.submit(`${path}/enter`, await filled({ "rows.1.on": "" }));
    const next = answer.headers.location ?? "";
    expect(next).toBe(`${path}/entered?sale=${sale.id}`);
    const page = await own.visit(next);
    const last = await base.db.item.findFirstOrThrow({ orderBy: { number: "desc" } });
    expect(linksIn(page.text)).toContain(`/items/${last.id}`);
    const print = await own.submit("/tags/prints", formFields(page.text, "/tags/prints"));
    expect(print.status).toBe(303);
    expect(await base.db.tagPrint.count({ where: { itemId: last.id } })).toBe(1);
  });

  test("a sheet that changed meanwhile is not entered as it was read", async () => {
    const typed = await filled();
    const change = `${path}/change`;
    const fields = formFields((await own.visit(change)).text, path);
    expect((await own.submit(path, { ...fields, "runs.0.count": "5" })).status).toBe(303);
    const before = await count();
    expect((await own.submit(`${path}/enter`, typed)).status).toBe(409);
    expect(await count()).toBe(before);
  });

  test("after the deadline the form says so", async () => {
    base.at(new Date("2026-11-21T12:00:00Z"));
    const { text } = await own.visit(`${path}/enter`);
    expect(text).toContain("Entries are closed");
    expect((await own.submit(`${path}/enter`, { "rows.0.on": "yes" })).status).toBe(400);
    base.at(new Date("2026-11-01T12:00:00Z"));
  });
});

describe("a bench without anything", () => {
  test("says what to do, and what is put away is found and taken out", async () => {
    expect((await own.submit(`${path}/put-away`)).status).toBe(303);
    const empty = (await own.visit("/bench")).text;
    expect(empty).toContain("No warp planned yet");
    expect(linksIn(empty)).toEqual(
      expect.arrayContaining(["/bench/sheets/new", "/bench?list=put-away"]),
    );
    expect((await own.visit("/bench?list=put-away")).text).toContain("Two wefts");
    expect((await own.visit("/bench?list=put-away&q=zzz")).text).toContain(
      "No sheet with that name",
    );
    expect((await own.submit(`${path}/put-away/undo`)).status).toBe(303);
    expect((await own.visit("/bench?q=wefts")).text).toContain("Two wefts");
    const copy = await own.submit(`${path}/copies`);
    expect(copy.headers.location).toMatch(/^\/bench\/sheets\/[0-9a-f-]{36}\/change$/);
  });
});
