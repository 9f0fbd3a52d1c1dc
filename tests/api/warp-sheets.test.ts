import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { presetSheet } from "../../src/rules/weave/presets.ts";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
import { buildSheet } from "../support/build-sheet.ts";

let base: TestApp;
let member: Member;
let own: Client;
let other: Client;
let sale: { id: string };

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  other = await signedIn(base, await buildMember(base.db, ["member", "chair"]));
});
afterAll(() => base.close());

const towels = presetSheet("towels", "inch");
const keep = async (more: object = {}) => {
  const made = await own.post("/api/me/sheets", { ...towels, ...more });
  expect(made.status).toBe(201);
  return made.body as { id: string; version: number; outcome: Record<string, unknown> };
};
const fieldsOf = ({ body }: { body: { errors: { field: string }[] } }) =>
  body.errors.map(({ field }) => field);

describe("working a sheet out", () => {
  test("answers exactly and to four decimals, and keeps nothing", async () => {
    const answer = await own.post("/api/warp-sheet/outcome", towels.sheet);
    expect(answer.status).toBe(200);
    // The towels of the issue: 294 in of warp, 3593.3333 and 3388 yd of 8/2 cotton, 942.46 g.
    expect(answer.body).toMatchObject({
      ...{ ends: 440, totalCost: null },
      warpLength: { exact: "18669/2500", decimal: "7.4676" },
      totalGrams: { decimal: "942.4641" },
      needs: [{ warpMetres: { decimal: "3285.7440" }, weftMetres: { decimal: "3097.9872" } }],
      runs: [{ picks: 720, label: ["100% Cotton"], fromWarp: null }],
    });
    expect(await base.db.warpSheet.count()).toBe(0);
  });

  test.each<[string, object, string[]]>([
    ["an unknown yarn", { warp: [{ yarn: 4, ends: null }] }, ["warp.0.yarn"]],
    ["no sett", { sett: { thousandths: 0, unit: "per-in" } }, ["sett.thousandths"]],
    ["a furlong", { width: { thousandths: 1, unit: "furlong" } }, ["width.unit"]],
    ["a loss of everything", { shrinkage: 100_000 }, ["shrinkage"]],
    ["half a thousandth", { drawIn: 0.5 }, ["drawIn"]],
    ["no piece", { runs: [] }, ["runs"]],
    ["seven yarns", { yarns: Array.from({ length: 7 }, () => towels.sheet.yarns[0]) }, ["yarns"]],
    ["a note with a NUL", { notes: "a\u0000b" }, ["notes"]],
    ["something else", { colour: "red" }, [""]],
  ])("%s is refused at its part", async (_words, more, fields) => {
    const answer = await own.post("/api/warp-sheet/outcome", { ...towels.sheet, ...more });
    expect([answer.status, fieldsOf(answer)]).toEqual([400, fields]);
  });
});

describe("keeping sheets", () => {
  test("a sheet reads back as it came, with what it comes to", async () => {
    const { id, outcome } = await keep({ name: "Kept" });
    const read = await own.get(`/api/me/sheets/${id}`);
    expect(read.body).toMatchObject({ id, name: "Kept", version: 1, sheet: towels.sheet });
    expect(read.body.outcome).toEqual(outcome);
  });

  test("the same key twice is one sheet; other content is refused", async () => {
    const key = v7();
    const [one, two] = [
      await own.post("/api/me/sheets", towels, key),
      await own.post("/api/me/sheets", towels, key),
    ];
    expect(one.body).toEqual(two.body);
    const reused = await own.post("/api/me/sheets", { ...towels, name: "Else" }, key);
    expect(reused.status).toBe(422);
  });

  test("a change needs the version that was read", async () => {
    const { id } = await keep();
    const put = (version: number) =>
      own.put(`/api/me/sheets/${id}`, { ...towels, sheet: buildSheet({}), version });
    expect((await put(1)).body).toMatchObject({ version: 2, sheet: buildSheet({}) });
    expect((await put(1)).status).toBe(409);
    expect((await put(0)).status).toBe(400);
  });

  test("another member finds none of it", async () => {
    const { id } = await keep();
    const path = `/api/me/sheets/${id}`;
    const answers = await Promise.all([
      other.get(path),
      other.put(path, { ...towels, version: 1 }),
      other.post(`${path}/copies`),
      other.post(`${path}/put-away`),
      other.delete(`${path}/put-away`),
      other.post(`${path}/items`, entry()),
    ]);
    expect(answers.map(({ status }) => status)).toEqual(Array.from({ length: 6 }, () => 404));
    expect((await other.get("/api/me/sheets")).body).toEqual({ items: [], next: null });
    expect((await own.get(path)).body).toMatchObject({ version: 1, putAwayAt: null });
  });

  test("lists page by page, by name, and those put away apart", async () => {
    const { id } = await keep({ name: "Overshot runner" });
    const copy = await own.post(`/api/me/sheets/${id}/copies`);
    expect([copy.status, copy.body.version]).toEqual([201, 1]);
    expect((await own.post(`/api/me/sheets/${id}/put-away`)).status).toBe(201);
    const names = async (query: string) =>
      (await own.get(`/api/me/sheets?${query}`)).body.items.map(
        ({ name }: { name: string }) => name,
      );
    expect(await names("q=OVERSHOT")).toEqual(["Copy of Overshot runner"]);
    expect(await names("list=put-away")).toEqual(["Overshot runner"]);
    expect((await own.delete(`/api/me/sheets/${id}/put-away`)).status).toBe(200);
    expect(await names("q=runner&limit=1")).toEqual(["Copy of Overshot runner"]);
    const { next } = (await own.get("/api/me/sheets?q=runner&limit=1")).body;
    expect(await names(`q=runner&limit=1&after=${next}`)).toEqual(["Overshot runner"]);
    expect((await own.get("/api/me/sheets?after=x")).status).toBe(400);
  });
});

const entry = (more: object = {}) => ({
  ...{ saleId: sale.id, version: 1, agreementVersion: 1 },
  rows: [{ run: 0, count: 2, kind: "towel", description: "Towel", price: 2_800 }],
  ...more,
});

describe("entering pieces", () => {
  test("gives tags, all or none, and once for a key", async () => {
    const { id } = await keep();
    const path = `/api/me/sheets/${id}/items`;
    const key = v7();
    const one = await own.post(path, entry(), key);
    expect([one.status, one.body.items.length]).toEqual([201, 2]);
    expect((await own.post(path, entry(), key)).body).toEqual(one.body);
    const [row] = entry().rows;
    const wrong = await own.post(path, entry({ rows: [row, { ...row, price: 1 }] }));
    expect([wrong.status, fieldsOf(wrong)]).toEqual([400, ["rows.1.price"]]);
    const many = await own.post(path, entry({ rows: [row, { ...row, count: 99 }] }));
    expect([many.status, fieldsOf(many)]).toEqual([400, ["rows"]]);
    expect((await own.post(path, entry({ rows: [] }))).status).toBe(400);
    expect((await own.post(path, entry({ version: 9 }))).status).toBe(409);
    expect(await base.db.item.count({ where: { memberId: member.id } })).toBe(2);
  });
});
