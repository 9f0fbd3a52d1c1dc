import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { enterItemList } from "../../../src/actions/item-lists/enter-item-list.ts";
import { putListBack, takeListBack } from "../../../src/actions/item-lists/take-list-back.ts";
import { withdrawItem } from "../../../src/actions/withdraw-item.ts";
import { findItemList, listItemLists } from "../../../src/database/item-lists.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../../support/build.ts";
import { early, moveTo, takeIn } from "../../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../../support/database.ts";

let base: TestDatabase;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
});
afterAll(() => base.drop());

/** A member of a sale with a list of so many towels. */
async function entered(pieces: number, more: object = {}) {
  const sale = await buildSale(base.db, more);
  const member = await buildMember(base.db);
  const rows = Array.from(
    { length: pieces },
    (_, row) => `Towel,Huck towel,28,cotton,Shade ${row}`,
  );
  const text = ["Kind,Description,Price,Fibres,Colours", ...rows].join("\n");
  const given = { saleId: sale.id, memberId: member.id, text, twins: "leave" as const };
  const done = await enterItemList(
    deedOf(base.db, member),
    { ...given, agreementVersion: 1 },
    early,
  );
  if (!done.ok) throw new Error(JSON.stringify(done.problem));
  return { sale, member, listId: done.value.listId, items: done.value.entered };
}

const later = new Date("2026-11-02T12:00:00.123Z");
const standing = (memberId: string) =>
  base.db.item.findMany({
    where: { memberId, withdrawnAt: null },
    orderBy: { number: "asc" },
    select: { number: true },
  });

test("only what is still as entered goes, and the rest is told", async () => {
  const { sale, member, listId, items } = await entered(4);
  const desk = await buildMember(base.db, ["desk"]);
  await withdrawItem(deedOf(base.db, member), { itemId: items[0]!.id }, early);
  await moveTo(base.db, sale, "entries-closed");
  await takeIn(base.db, desk, sale, items[1]!.tag);
  const done = await takeListBack(deedOf(base.db, member), { listId }, later);
  expect(done).toEqual({ ok: true, value: { tags: [items[2]!.tag, items[3]!.tag], kept: 2 } });
  expect(await standing(member.id)).toEqual([{ number: 2 }]);
  expect(await findItemList(base.db, listId)).toMatchObject({
    pieces: 4,
    asEntered: 0,
    withdrawn: 3,
    takenBack: 2,
  });
  const again = await takeListBack(deedOf(base.db, member), { listId }, later);
  expect(again).toMatchObject({ ok: false, problem: { code: "already-done" } });
});

test("putting back leaves alone what was withdrawn by itself", async () => {
  const { member, listId, items } = await entered(3);
  await withdrawItem(deedOf(base.db, member), { itemId: items[0]!.id }, early);
  await takeListBack(deedOf(base.db, member), { listId }, later);
  const back = await putListBack(deedOf(base.db, member), { listId });
  expect(back).toEqual({ ok: true, value: { tags: [items[1]!.tag, items[2]!.tag], kept: 1 } });
  expect(await standing(member.id)).toEqual([{ number: 2 }, { number: 3 }]);
  const twice = await putListBack(deedOf(base.db, member), { listId });
  expect(twice).toMatchObject({ ok: false, problem: { code: "already-done" } });
});

test("putting back keeps to the limits of the sale", async () => {
  const { sale, member, listId } = await entered(2);
  await takeListBack(deedOf(base.db, member), { listId }, later);
  await base.db.sale.update({ where: { id: sale.id }, data: { itemLimit: 1 } });
  const back = await putListBack(deedOf(base.db, member), { listId });
  expect(back).toMatchObject({ ok: false, problem: { code: "limit-reached" } });
  expect(await standing(member.id)).toEqual([]);
});

test("two who take it back at once do it once", async () => {
  const { member, listId } = await entered(2);
  const both = await Promise.all(
    [v7(), v7()].map((key) => takeListBack(deedOf(base.db, member, key), { listId }, later)),
  );
  expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
});

test("a foreign list is unknown, the desk may help, and a sale that is over stands", async () => {
  const { sale, member, listId } = await entered(1);
  const stranger = await buildMember(base.db);
  for (const act of [takeListBack, putListBack])
    expect(await act(deedOf(base.db, stranger), { listId }, later)).toMatchObject({
      ok: false,
      problem: { code: "not-found" },
    });
  await moveTo(base.db, sale, "settling");
  expect(await takeListBack(deedOf(base.db, member), { listId }, later)).toMatchObject({
    ok: false,
    problem: { code: "stage-closed" },
  });
  await moveTo(base.db, sale, "selling");
  const desk = await buildMember(base.db, ["desk"]);
  expect((await takeListBack(deedOf(base.db, desk), { listId }, later)).ok).toBe(true);
});

test("lists come newest first, a page at a time, and only one's own", async () => {
  const { sale, member, listId } = await entered(1);
  const text = "Kind,Description,Price,Fibres\nScarf,Twill scarf,45,wool";
  const given = { saleId: sale.id, memberId: member.id, text, twins: "leave" as const };
  const second = await enterItemList(deedOf(base.db, member), given, early);
  const newest = second.ok ? second.value.listId : "";
  const own = { memberId: member.id };
  const first = await listItemLists(base.db, own, { limit: 1 });
  expect([first.items.map(({ id }) => id), first.next]).toEqual([[newest], newest]);
  const rest = await listItemLists(base.db, own, { limit: 1, after: newest });
  expect([rest.items.map(({ id }) => id), rest.next]).toEqual([[listId], null]);
});
