import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import {
  addSheet,
  copySheet,
  editSheet,
  putSheetAway,
  takeSheetOut,
} from "../../src/actions/warp-sheets.ts";
import { findSheet, listSheets } from "../../src/database/warp-sheets.ts";
import { presetSheet } from "../../src/rules/weave/presets.ts";
import { buildGuild, buildMember, deedOf } from "../support/build.ts";
import { buildSheet } from "../support/build-sheet.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let member: Awaited<ReturnType<typeof buildMember>>;
let other: Awaited<ReturnType<typeof buildMember>>;
const now = new Date("2026-03-05T10:00:00Z");

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  other = await buildMember(base.db);
});
afterAll(() => base.drop());

const towels = presetSheet("towels", "inch");
const add = async (more: object = {}, key?: string) =>
  addSheet(deedOf(base.db, member, key), { ...towels, ...more }, now);

async function added(more: object = {}) {
  const done = await add(more);
  if (!done.ok) throw new Error(JSON.stringify(done.problem));
  return done.value;
}

const codeOf = (done: { ok: boolean; problem?: { code: string } }) =>
  done.ok ? "ok" : done.problem?.code;
const read = (id: string) => findSheet(base.db, member.id, id);

describe("keeping a sheet", () => {
  test("reads back exactly as it was typed, with an audit row that tells nothing of it", async () => {
    const { id } = await added({ name: "Kitchen towels" });
    expect(await read(id)).toMatchObject({
      ...{ name: "Kitchen towels", version: 1, putAwayAt: null },
      changedAt: now.toISOString(),
    });
    expect((await read(id))?.sheet).toEqual(towels.sheet);
    const audit = await base.db.audit.findFirstOrThrow({ where: { subjectId: id } });
    expect([audit.deed, audit.detail]).toEqual(["add-warp-sheet", {}]);
  });

  test("sent twice with the same key it is kept once", async () => {
    const before = await base.db.warpSheet.count();
    const [one, two] = [await add({}, "sheet-key-1"), await add({}, "sheet-key-1")];
    expect(one).toEqual(two);
    expect(await base.db.warpSheet.count()).toBe(before + 1);
    expect(codeOf(await add({ name: "Other" }, "sheet-key-1"))).toBe("key-reused");
  });

  test("what cannot be worked out is refused at its part", async () => {
    const sheet = buildSheet({ warp: [{ yarn: 3, ends: null }] });
    const done = await add({ sheet });
    expect(done.ok || done.problem.errors.map(({ field }) => field)).toEqual(["sheet.warp.0.yarn"]);
  });
});

describe("changing a sheet", () => {
  const edit = (id: string, version: number, name: string, who = member) =>
    editSheet(deedOf(base.db, who), { ...towels, id, version, name }, now);

  test("counts the version up, and of two at once one is told", async () => {
    const { id } = await added();
    const both = await Promise.all([edit(id, 1, "One"), edit(id, 1, "Two")]);
    expect(both.map(codeOf).sort()).toEqual(["changed-meanwhile", "ok"]);
    expect((await read(id))?.version).toBe(2);
    expect(codeOf(await edit(id, 1, "Late"))).toBe("changed-meanwhile");
    expect(codeOf(await edit(id, 2, "In time"))).toBe("ok");
    expect((await read(id))?.name).toBe("In time");
  });

  test("another member's sheet and an unknown one answer alike, whatever the deed", async () => {
    const { id } = await added({ name: "Mine" });
    const deeds = (sheet: string) => [
      edit(sheet, 1, "Taken", other),
      copySheet(deedOf(base.db, other), sheet, now),
      putSheetAway(deedOf(base.db, other), sheet, now),
      takeSheetOut(deedOf(base.db, other), sheet),
    ];
    const foreign = await Promise.all(deeds(id));
    const unknown = await Promise.all(deeds(v7()));
    expect(foreign).toEqual(unknown);
    expect(foreign.map(codeOf)).toEqual(Array.from({ length: 4 }, () => "not-found"));
    expect(await read(id)).toMatchObject({ name: "Mine", version: 1, putAwayAt: null });
    expect(await findSheet(base.db, other.id, id)).toBeNull();
  });
});

describe("copies and sheets put away", () => {
  test("a copy has the same figures and a life of its own", async () => {
    const { id } = await added({ name: "x".repeat(60) });
    const copy = await copySheet(deedOf(base.db, member), id, now);
    if (!copy.ok) throw new Error("refused");
    const kept = await read(copy.value.id);
    expect(kept?.sheet).toEqual(towels.sheet);
    expect([kept?.name.length, kept?.name.slice(0, 9)]).toEqual([60, "Copy of x"]);
  });

  test("put away it leaves the list and can be taken out; nothing is deleted", async () => {
    const { id } = await added({ name: "Old rug" });
    const has = async (putAway: boolean) => {
      const filter = { memberId: member.id, putAway, q: "old RUG" };
      return (await listSheets(base.db, filter, { limit: 50 })).items.some((one) => one.id === id);
    };
    expect([await has(false), await has(true)]).toEqual([true, false]);
    await putSheetAway(deedOf(base.db, member), id, now);
    expect([await has(false), await has(true)]).toEqual([false, true]);
    await takeSheetOut(deedOf(base.db, member), id);
    expect([await has(false), await has(true)]).toEqual([true, false]);
  });

  test("the list pages without a gap or a double, and a wildcard is a letter", async () => {
    const lone = await buildMember(base.db);
    for (const name of ["A 100% linen", "B", "C", "D", "E"])
      await addSheet(deedOf(base.db, lone), { ...towels, name }, now);
    const names: string[] = [];
    let after: string | undefined;
    do {
      const page = await listSheets(base.db, { memberId: lone.id }, { after, limit: 2 });
      names.push(...page.items.map(({ name }) => name));
      after = page.next ?? undefined;
    } while (after);
    expect(names).toEqual(["E", "D", "C", "B", "A 100% linen"]);
    const found = await listSheets(base.db, { memberId: lone.id, q: "%" }, { limit: 50 });
    expect(found.items.map(({ name }) => name)).toEqual(["A 100% linen"]);
  });
});
