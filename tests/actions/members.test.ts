import { afterAll, beforeAll, expect, test } from "vitest";
import { addMember } from "../../src/actions/add-member.ts";
import { editMember } from "../../src/actions/edit-member.ts";
import { memberShape } from "../../src/contract/member.ts";
import type { Deed } from "../../src/database/perform.ts";
import { buildGuild, buildMember, deedOf } from "../support/build.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let chair: Awaited<ReturnType<typeof buildMember>>;
const as = (key?: string): Deed => deedOf(base.db, chair, key);
const person = (more: object = {}) => memberShape.parse({ name: "Rose Heddle", ...more });
const version = async (id: string) =>
  (await base.db.member.findUniqueOrThrow({ where: { id } })).version;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  chair = await buildMember(base.db, ["member", "chair"]);
});
afterAll(() => base.drop());

const value = <T>(result: { ok: true; value: T } | { ok: false; problem: { code: string } }): T => {
  if (!result.ok) throw new Error(result.problem.code);
  return result.value;
};
const code = (result: { ok: boolean; problem?: { code: string } }) => result.problem?.code;

test("twenty at once get twenty numbers in a row, and refusals leave no gap", async () => {
  await addMember(as(), person({ email: "twin@example.org" }));
  const before = await base.db.member.count();
  const wishes = Array.from({ length: 20 }, (_, index) =>
    addMember(as(), person({ email: index % 4 === 0 ? "twin@example.org" : null })),
  );
  const results = await Promise.all(wishes);
  expect(results.filter((result) => code(result) === "invalid-input")).toHaveLength(5);
  const members = await base.db.member.findMany({ orderBy: { number: "asc" } });
  expect(members).toHaveLength(before + 15);
  expect(members.map(({ number }) => number)).toEqual(members.map((_, index) => 100 + index));
});

test("the same form twice, even at once, adds one member", async () => {
  const before = await base.db.member.count();
  const twins = await Promise.all([
    addMember(as("same-key-1"), person()),
    addMember(as("same-key-1"), person()),
  ]);
  expect(value(twins[0])).toEqual(value(twins[1]));
  expect(await base.db.member.count()).toBe(before + 1);
  expect(code(await addMember(as("same-key-1"), person({ name: "Other" })))).toBe("key-reused");
});

test("a taken e-mail names the field, whatever its case", async () => {
  const result = await addMember(as(), person({ email: "TWIN@example.org" }));
  expect(result.ok ? [] : result.problem.errors.map(({ field }) => field)).toEqual(["email"]);
});

test("a member changes once; the second who saw the old state is told so", async () => {
  const { id } = value(await addMember(as(), person()));
  const both = await Promise.all([
    editMember(as(), id, { version: 1, name: "First" }),
    editMember(as(), id, { version: 1, name: "Second" }),
  ]);
  expect(both.map(code).sort()).toEqual(["changed-meanwhile", undefined]);
  expect(await version(id)).toBe(2);
});

test("resting ends the sessions and the open links of a member", async () => {
  const { id } = value(await addMember(as(), person()));
  const later = new Date(Date.now() + 86_400_000);
  await base.db.session.create({ data: { memberId: id, refreshHash: "h1", expiresAt: later } });
  await base.db.oneUseLink.create({
    data: { purpose: "invitation", memberId: id, tokenHash: "t1", expiresAt: later },
  });
  value(await editMember(as(), id, { version: 1, status: "resting" }));
  expect(await base.db.session.count({ where: { memberId: id, endedAt: null } })).toBe(0);
  expect(await base.db.oneUseLink.count({ where: { memberId: id, usedAt: null } })).toBe(0);
});

test("the last active chair keeps the role, also when two let go at once", async () => {
  const alone = await editMember(as(), chair.id, { version: 1, roles: ["member"] });
  expect(alone.ok ? "" : alone.problem.errors[0]?.field).toBe("roles");
  const second = await buildMember(base.db, ["chair"]);
  const both = await Promise.all([
    editMember(as(), chair.id, { version: 1, roles: ["member"] }),
    editMember(as(), second.id, { version: 1, status: "resting" }),
  ]);
  expect(both.filter((result) => result.ok)).toHaveLength(1);
  const left = await base.db.member.count({ where: { roles: { has: "chair" }, status: "active" } });
  expect(left).toBe(1);
});

test("an unknown member is not found", async () => {
  const id = "01900000-0000-7000-8000-000000000000";
  expect(code(await editMember(as(), id, { version: 1, name: "Nobody" }))).toBe("not-found");
});

test("the audit says who changed which fields, without names and addresses", async () => {
  const { id } = value(await addMember(as(), person()));
  await editMember(as(), id, { version: 1, email: "new@example.org", roles: ["desk"] });
  const row = await base.db.audit.findFirstOrThrow({
    where: { subjectId: id, deed: "edit-member" },
  });
  expect(row.byId).toBe(chair.id);
  expect(row.detail).toEqual({ fields: ["email", "roles"], roles: ["desk"] });
});

test("tags of 8 digits leave room up to member 999", async () => {
  await base.db.member.create({ data: { number: 998, name: "Late" } });
  expect(value(await addMember(as(), person())).number).toBe(999);
  expect(code(await addMember(as(), person()))).toBe("limit-reached");
});
