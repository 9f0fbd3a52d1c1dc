import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember } from "../support/build.ts";

let base: TestApp;
let chair: Client;
const unknownId = "01900000-0000-7000-8000-000000000000";

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
});
afterAll(() => base.close());

test("members are added, read and changed; the pass phrase never shows", async () => {
  const made = await chair.post("/api/members", { name: "Nell Sley", email: "Nell@Example.org" });
  expect(made.status).toBe(201);
  expect(made.body).toEqual({
    id: made.body.id,
    number: 101,
    name: "Nell Sley",
    email: "nell@example.org",
    phone: "",
    status: "active",
    roles: ["member"],
    joined: false,
    version: 1,
  });
  const path = `/api/members/${made.body.id}`;
  const changed = await chair.patch(path, { version: 1, status: "resting" });
  expect(changed.body).toMatchObject({ status: "resting", version: 2 });
  expect((await chair.patch(path, { version: 1, name: "Late" })).body.code).toBe(
    "changed-meanwhile",
  );
  expect((await chair.get("/api/members?q=nell&status=resting")).body.items).toHaveLength(1);
});

test.each([
  [{}, "name"],
  [{ name: 7 }, "name"],
  [{ name: "A".repeat(81) }, "name"],
  [{ name: "Ann", email: "no" }, "email"],
  [{ name: "Ann", roles: ["queen"] }, "roles.0"],
  [{ name: "Ann", roles: ["desk", "desk"] }, "roles"],
  [{ name: "Ann", phone: "=1" }, "phone"],
  [{ name: "Ann", number: 7 }, ""],
])("%o is refused with the field named", async (body, field) => {
  const answer = await chair.post("/api/members", body);
  expect(answer.status).toBe(400);
  expect(answer.body.errors.map((error: { field: string }) => error.field)).toContain(field);
});

test("unknown and impossible ids", async () => {
  expect((await chair.get(`/api/members/${unknownId}`)).status).toBe(404);
  expect((await chair.get("/api/members/100")).status).toBe(400);
  expect((await chair.patch(`/api/members/${unknownId}`, { version: 1 })).status).toBe(404);
  expect((await chair.post(`/api/members/${unknownId}/link`)).status).toBe(404);
});

test("fifty equal posts under one key add one member", async () => {
  const before = await base.db.member.count();
  const posts = Array.from({ length: 50 }, () =>
    chair.post("/api/members", { name: "Many Times" }, "fifty-at-once"),
  );
  const answers = await Promise.all(posts);
  expect(new Set(answers.map((answer) => `${answer.status} ${answer.body.number}`)).size).toBe(1);
  expect(await base.db.member.count()).toBe(before + 1);
});

test("a list is looked at, then its good rows are added once", async () => {
  const text = "name,roles\nOlga Tenter,desk\n,member\nUte Raddle,\n";
  const preview = await chair.post("/api/members/import/preview", { text });
  expect(preview.body).toMatchObject({ good: 2, bad: 1 });
  const done = await chair.post("/api/members/import", { text }, "list-key-1");
  expect(done.status).toBe(201);
  expect(done.body).toMatchObject({ skipped: 1, added: [{ line: 2 }, { line: 4 }] });
  expect((await chair.post("/api/members/import", { text }, "list-key-1")).body).toEqual(done.body);
  expect((await chair.post("/api/members/import", { text: "" })).status).toBe(400);
});

test("a link lets the member in once", async () => {
  const member = await buildMember(base.db);
  const made = await chair.post(`/api/members/${member.id}/link`);
  expect(made.status).toBe(201);
  expect(made.body.path).toBe(`/join/${made.body.token}`);
  expect((await chair.visit(made.body.path)).status).toBe(200);
});

test("settings and kinds change over the API, and the audit tells of it", async () => {
  const guild = await chair.patch("/api/guild", { version: 1, paper: "a4" });
  expect(guild.body).toMatchObject({ paper: "a4", version: 2, currency: "USD" });
  expect((await chair.patch("/api/guild", { version: 2, currency: "US" })).status).toBe(400);
  const kind = await chair.post("/api/kinds", { name: "Tea cosy" });
  expect(kind.status).toBe(201);
  await chair.patch(`/api/kinds/${kind.body.id}`, { active: false });
  const kinds = await chair.get("/api/kinds");
  expect(kinds.body.items.at(-1)).toMatchObject({ code: "tea-cosy", active: false });
  const audit = await chair.get("/api/audit?limit=3");
  expect(audit.body.items.map((row: { deed: string }) => row.deed)).toEqual([
    "edit-kind",
    "add-kind",
    "edit-guild",
  ]);
  expect(audit.body.items[0].by.number).toBe(100);
  expect((await chair.get(`/api/audit?after=${audit.body.next}`)).body.items).not.toHaveLength(0);
});
