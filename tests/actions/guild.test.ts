import { afterEach, beforeEach, expect, test } from "vitest";
import { editGuild } from "../../src/actions/edit-guild.ts";
import { addKind, editKind } from "../../src/actions/kinds.ts";
import { listKinds } from "../../src/database/kinds.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let chair: Awaited<ReturnType<typeof buildMember>>;
const as = (key?: string) => deedOf(base.db, chair, key);
const code = (result: { ok: boolean; problem?: { code: string } }) => result.problem?.code;

beforeEach(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  chair = await buildMember(base.db, ["chair"]);
});
afterEach(() => base.drop());

async function fillDrawer() {
  const sale = await buildSale(base.db);
  const till = await base.db.till.create({ data: { saleId: sale.id, number: 1, name: "Front" } });
  await base.db.tillSession.create({ data: { tillId: till.id, float: 0n, openedById: chair.id } });
}

test("settings change for the one who saw the present state", async () => {
  const both = await Promise.all([
    editGuild(as(), { version: 1, name: "Alder Weavers" }),
    editGuild(as(), { version: 1, name: "Creek Weavers" }),
  ]);
  expect(both.map(code).sort()).toEqual(["changed-meanwhile", undefined]);
});

test("longer tags move the numbers of all members, and back again", async () => {
  await buildMember(base.db);
  const longer = await editGuild(as(), { version: 1, tagLength: 10 });
  expect(longer).toEqual({ ok: true, value: { version: 2, renumbered: true } });
  const numbers = async () =>
    (await base.db.member.findMany({ orderBy: { number: "asc" } })).map(({ number }) => number);
  expect(await numbers()).toEqual([1000, 1001]);
  const account = await base.db.account.findUniqueOrThrow({ where: { key: `member/${chair.id}` } });
  expect(account.name).toBe("Member 1000");
  await editGuild(as(), { version: 2, tagLength: 8 });
  expect(await numbers()).toEqual([100, 101]);
});

test("currency and tag length stay once cash is recorded; the rest still changes", async () => {
  await fillDrawer();
  const refused = await editGuild(as(), { version: 1, currency: "EUR", tagLength: 10 });
  expect(refused.ok ? [] : refused.problem.errors.map(({ field }) => field)).toEqual([
    "currency",
    "tagLength",
  ]);
  const passed = await editGuild(as(), { version: 1, currency: "USD", paper: "a4" });
  expect(passed.ok).toBe(true);
});

test("kinds are added at the end, each name once, whatever its case", async () => {
  const [one, two] = await Promise.all([
    addKind(as(), { name: "Tea cosy" }),
    addKind(as(), { name: "TEA COSY" }),
  ]);
  expect([code(one), code(two)].sort()).toEqual(["invalid-input", undefined]);
  const kinds = await listKinds(base.db);
  expect(kinds.at(-1)).toMatchObject({ code: "tea-cosy", position: kinds.length });
});

test("a renamed kind keeps its code, and a new one with the old name gets another", async () => {
  const scarf = await base.db.kind.findUniqueOrThrow({ where: { code: "scarf" } });
  await editKind(as(), scarf.id, { name: "Muffler" });
  const added = await addKind(as(), { name: "Scarf" });
  const kind = await base.db.kind.findUniqueOrThrow({
    where: { id: added.ok ? added.value.id : "" },
  });
  expect(kind.code).toBe("scarf-2");
  expect(code(await editKind(as(), kind.id, { name: "muffler" }))).toBe("invalid-input");
});

test("a retired kind leaves the list and can come back", async () => {
  const scarf = await base.db.kind.findUniqueOrThrow({ where: { code: "scarf" } });
  await editKind(as(), scarf.id, { active: false });
  const codes = (kinds: { code: string }[]) => kinds.map((kind) => kind.code);
  expect(codes(await listKinds(base.db))).not.toContain("scarf");
  expect(codes(await listKinds(base.db, { retired: true }))).toContain("scarf");
  await editKind(as(), scarf.id, { active: true });
  expect(codes(await listKinds(base.db))).toContain("scarf");
  const unknown = "01900000-0000-7000-8000-000000000000";
  expect(code(await editKind(as(), unknown, { active: false }))).toBe("not-found");
});
