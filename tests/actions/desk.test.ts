import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type CheckIn, checkInItem } from "../../src/actions/check-in-item.ts";
import { checkInItems } from "../../src/actions/check-in-items.ts";
import { pickUpItem } from "../../src/actions/pick-up-item.ts";
import { pickUpItems } from "../../src/actions/pick-up-items.ts";
import { withdrawItem } from "../../src/actions/withdraw-item.ts";
import { findItem } from "../../src/database/items.ts";
import { checkDigits, showTag } from "../../src/rules/tag-number.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { early, enter, moveTo, takeIn } from "../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
type Member = Awaited<ReturnType<typeof buildMember>>;
type Sale = Awaited<ReturnType<typeof buildSale>>;
let member: Member;
let desk: Member;
let sale: Sale;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  desk = await buildMember(base.db, ["desk"]);
  sale = await buildSale(base.db);
});
afterAll(() => base.drop());

async function entered(more = {}) {
  await moveTo(base.db, sale, "entries-open");
  const item = await enter(base.db, member, sale, more);
  await moveTo(base.db, sale, "entries-closed");
  return item;
}

const check = (tag: string, more: Partial<CheckIn> = {}, key?: string) =>
  checkInItem(deedOf(base.db, desk, key), {
    ...{ saleId: sale.id, tag, decision: "accepted", reason: "" },
    ...more,
  });

/** A good number under which nothing was entered. */
const nobodys = `999999${checkDigits("999999")}`;

const codeOf = (result: { ok: boolean; problem?: { code: string } }) =>
  result.ok ? "ok" : result.problem?.code;

const piecesOf = async (id: string) => (await findItem(base.db, id))?.pieces;

describe("check-in", () => {
  test("takes in all that is with the member, whatever way the tag is typed", async () => {
    const item = await entered({ quantity: 4 });
    const done = await check(` ${showTag(item.tag)} `);
    expect(done).toEqual({
      ok: true,
      value: { itemId: item.id, tag: item.tag, decision: "accepted", quantity: 4 },
    });
    expect(await piecesOf(item.id)).toMatchObject({ onFloor: 4, withMember: 0 });
  });

  test("a part comes now and the rest later", async () => {
    const item = await entered({ quantity: 4 });
    expect(codeOf(await check(item.tag, { quantity: 3 }))).toBe("ok");
    expect(codeOf(await check(item.tag, { quantity: 2 }))).toBe("invalid-input");
    expect(codeOf(await check(item.tag))).toBe("ok");
    expect(await piecesOf(item.id)).toMatchObject({ onFloor: 4 });
  });

  test("twice says when and by whom, and counts once; twice with one key is one", async () => {
    const item = await entered();
    const key = "check-in-once";
    expect(await check(item.tag, {}, key)).toEqual(await check(item.tag, {}, key));
    const twice = await check(item.tag);
    expect(codeOf(twice)).toBe("already-done");
    expect(!twice.ok && twice.problem.detail).toContain(desk.name);
    expect(await base.db.checkIn.count({ where: { itemId: item.id } })).toBe(1);
  });

  test("two helpers at once: one takes it in", async () => {
    for (let round = 0; round < 10; round += 1) {
      const item = await entered();
      const both = await Promise.all([check(item.tag), check(item.tag)]);
      expect(both.map(codeOf).sort()).toEqual(["already-done", "ok"]);
      expect(await piecesOf(item.id)).toMatchObject({ onFloor: 1 });
    }
  });

  test("turning away needs a reason, moves nothing, and can be followed by taking in", async () => {
    const item = await entered();
    const away = { decision: "turned-away" as const };
    const refused = await check(item.tag, away);
    expect(!refused.ok && refused.problem.errors[0]?.field).toBe("reason");
    expect(codeOf(await check(item.tag, { ...away, reason: "Loose ends" }))).toBe("ok");
    expect((await findItem(base.db, item.id))?.state).toBe("turned-away");
    expect(codeOf(await check(item.tag, { ...away, reason: "Again" }))).toBe("already-done");
    expect(codeOf(await check(item.tag))).toBe("ok");
    expect((await findItem(base.db, item.id))?.state).toBe("on-floor");
  });

  test("a withdrawn piece is named", async () => {
    const item = await entered();
    await withdrawItem(deedOf(base.db, member), { itemId: item.id }, early);
    const refused = await check(item.tag);
    expect(codeOf(refused)).toBe("withdrawn");
    expect(!refused.ok && refused.problem.detail).toContain("Twill scarf");
  });

  test.each([
    ["", "invalid-input"],
    ["12a45678", "invalid-input"],
    ["1234567", "invalid-input"],
    ["10000199", "wrong-check-digits"],
    [nobodys, "unknown-tag"],
  ])("the tag %o is refused as %s", async (tag, code) => {
    const refused = await check(tag);
    expect(codeOf(refused)).toBe(code);
    expect(!refused.ok && refused.problem.errors[0]?.field).toBe("tag");
  });

  test.each([
    ["planning", "stage-closed"],
    ["entries-open", "stage-closed"],
    ["selling", "ok"],
    ["settling", "stage-closed"],
    ["closed", "stage-closed"],
  ])("at the stage %s it is %s", async (stage, code) => {
    const item = await entered();
    await moveTo(base.db, sale, stage);
    expect(codeOf(await check(item.tag))).toBe(code);
  });

  test("a piece of another sale is named with its sale", async () => {
    const other = await buildSale(base.db, { name: "Spring sale" });
    const item = await enter(base.db, member, other);
    await moveTo(base.db, sale, "entries-closed");
    const refused = await check(item.tag);
    expect(codeOf(refused)).toBe("other-sale");
    expect(!refused.ok && refused.problem.detail).toContain("Spring sale");
  });
});

describe("handing back", () => {
  const pickUp = (tag: string, more: object = {}, key?: string) =>
    pickUpItem(deedOf(base.db, desk, key), { saleId: sale.id, tag, reason: "", ...more });

  test("before the sale is over it needs a reason, and the piece may come again", async () => {
    const item = await entered({ quantity: 2 });
    await takeIn(base.db, desk, sale, item.tag);
    const refused = await pickUp(item.tag);
    expect(!refused.ok && refused.problem.errors[0]?.field).toBe("reason");
    expect(codeOf(await pickUp(item.tag, { reason: "A moth hole", quantity: 1 }))).toBe("ok");
    expect(await piecesOf(item.id)).toMatchObject({ onFloor: 1, withMember: 1 });
    expect(codeOf(await check(item.tag))).toBe("ok");
    expect(await piecesOf(item.id)).toMatchObject({ onFloor: 2, withMember: 0 });
  });

  test("after the sale all that is left goes home, once", async () => {
    const item = await entered({ quantity: 3 });
    await takeIn(base.db, desk, sale, item.tag);
    await moveTo(base.db, sale, "settling");
    expect(codeOf(await pickUp(item.tag, { quantity: 9 }))).toBe("invalid-input");
    const both = await Promise.all([pickUp(item.tag), pickUp(item.tag)]);
    expect(both.map(codeOf).sort()).toEqual(["not-on-floor", "ok"]);
    expect(await findItem(base.db, item.id)).toMatchObject({
      state: "home",
      pieces: { onFloor: 0, withMember: 3 },
    });
  });

  test("nothing is handed back that never came, or once the sale is closed", async () => {
    const item = await entered();
    await moveTo(base.db, sale, "settling");
    expect(codeOf(await pickUp(item.tag))).toBe("not-on-floor");
    await moveTo(base.db, sale, "closed");
    expect(codeOf(await pickUp(item.tag, { reason: "Late" }))).toBe("stage-closed");
  });
});

describe("a whole list at once", () => {
  const deed = () => deedOf(base.db, desk);

  test("takes in what was ticked and names what could not be", async () => {
    const items = [await entered(), await entered(), await entered({ quantity: 2 })];
    const tags = items.map(({ tag }) => tag);
    await takeIn(base.db, desk, sale, tags[0]!);
    const tally = await checkInItems(deed(), { saleId: sale.id, tags: [...tags, nobodys] });
    if (!tally.ok) throw new Error(tally.problem.code);
    expect(tally.value.done.map(({ tag, quantity }) => [tag, quantity])).toEqual([
      [tags[1], 1],
      [tags[2], 2],
    ]);
    expect(tally.value.refused.map(({ tag, code }) => [tag, code])).toEqual([
      [tags[0], "already-done"],
      [nobodys, "unknown-tag"],
    ]);
    const again = await checkInItems(deed(), { saleId: sale.id, tags });
    expect(codeOf(again)).toBe("already-done");
  });

  test("two helpers with the same list: every piece comes once", async () => {
    const tags: string[] = [];
    for (let round = 0; round < 6; round += 1) tags.push((await entered()).tag);
    const both = await Promise.all([
      checkInItems(deed(), { saleId: sale.id, tags }),
      checkInItems(deed(), { saleId: sale.id, tags: [...tags].reverse() }),
    ]);
    const done = both.flatMap((one) => (one.ok ? one.value.done : []));
    expect(done.map(({ tag }) => tag).sort()).toEqual([...tags].sort());
  });

  test("hands back all that was ticked after the sale", async () => {
    const item = await entered({ quantity: 2 });
    await takeIn(base.db, desk, sale, item.tag);
    const given = { saleId: sale.id, tags: [item.tag] };
    expect(codeOf(await pickUpItems(deed(), given))).toBe("invalid-input");
    await moveTo(base.db, sale, "settling");
    expect(codeOf(await pickUpItems(deed(), given))).toBe("ok");
    expect(await piecesOf(item.id)).toMatchObject({ onFloor: 0, withMember: 2 });
    expect(codeOf(await pickUpItems(deed(), given))).toBe("already-done");
  });
});
