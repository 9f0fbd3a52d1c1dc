import { afterAll, beforeAll, expect, test } from "vitest";
import { allowMarkdown } from "../../src/actions/allow-markdown.ts";
import { copyItem } from "../../src/actions/copy-item.ts";
import { editItem } from "../../src/actions/edit-item.ts";
import { withdrawItem } from "../../src/actions/withdraw-item.ts";
import { findItem } from "../../src/database/items.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { early, enter, moveTo, scarf, takeIn } from "../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
type Member = Awaited<ReturnType<typeof buildMember>>;
let member: Member;
let other: Member;
let desk: Member;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  other = await buildMember(base.db);
  desk = await buildMember(base.db, ["desk"]);
});
afterAll(() => base.drop());

const codeOf = (result: { ok: boolean; problem?: { code: string } }) =>
  result.ok ? "ok" : result.problem?.code;
const allow = (who: Member, itemId: string, version: number, allowed = true, key?: string) =>
  allowMarkdown(deedOf(base.db, who, key), { itemId, version, allowed });

async function entered(more = {}) {
  const sale = await buildSale(base.db);
  return { sale, item: await enter(base.db, member, sale, more) };
}
const now = async (id: string) => {
  const item = await findItem(base.db, id);
  return [item?.markdown, item?.version];
};

test("it is asked at the entry, a copy keeps it, and a change that is silent about it too", async () => {
  const { sale, item } = await entered({ markdown: true });
  expect(await now(item.id)).toEqual([true, 1]);
  const given = { itemId: item.id, saleId: sale.id };
  const copy = await copyItem(deedOf(base.db, member), given, early);
  expect(copy.ok && (await now(copy.value.id))).toEqual([true, 1]);
  const { markdown: _silent, ...silent } = scarf();
  const edit = (version: number, words: object) =>
    editItem(
      deedOf(base.db, member),
      { itemId: item.id, version, item: { ...silent, ...words } },
      early,
    );
  expect(codeOf(await edit(1, { price: 9_000 }))).toBe("ok");
  expect(await now(item.id)).toEqual([true, 2]);
  expect(codeOf(await edit(2, { markdown: false }))).toBe("ok");
  expect(await now(item.id)).toEqual([false, 3]);
});

test("the same key counts once, and of two at once one wins", async () => {
  const { item } = await entered();
  const twice = await Promise.all([1, 2].map(() => allow(member, item.id, 1, true, "allow-once")));
  expect(twice[0]).toEqual({ ok: true, value: { id: item.id, version: 2 } });
  expect(twice[1]).toEqual(twice[0]);
  const both = await Promise.all([allow(member, item.id, 2, false), allow(desk, item.id, 2)]);
  expect(both.map(codeOf).sort()).toEqual(["changed-meanwhile", "ok"]);
});

test("somebody else's item and an unknown one answer alike; a withdrawn one stays", async () => {
  const { item } = await entered();
  const foreign = await allow(other, item.id, 1);
  expect(foreign).toEqual(await allow(other, member.id, 1));
  expect(codeOf(foreign)).toBe("not-found");
  await withdrawItem(deedOf(base.db, member), { itemId: item.id }, early);
  expect(codeOf(await allow(member, item.id, 2))).toBe("withdrawn");
});

test("it may change when the desk has the piece, and not once the tills sell", async () => {
  const { sale, item } = await entered();
  const late = await enter(base.db, member, sale);
  await moveTo(base.db, sale, "entries-closed");
  await takeIn(base.db, desk, sale, item.tag);
  expect(codeOf(await allow(member, item.id, 1))).toBe("ok");
  await moveTo(base.db, sale, "selling");
  expect(codeOf(await allow(member, item.id, 2, false))).toBe("stage-closed");
  expect(await now(item.id)).toEqual([true, 2]);
  const change = { itemId: late.id, version: 1, item: scarf({ markdown: true }) };
  expect(codeOf(await editItem(deedOf(base.db, desk), change, early))).toBe("stage-closed");
});
