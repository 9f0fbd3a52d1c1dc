import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { enterItem } from "../../src/actions/enter-item.ts";
import { enterItems } from "../../src/actions/enter-items.ts";
import type { ItemDetails } from "../../src/rules/item.ts";
import { readTag } from "../../src/rules/tag-number.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { early, late, scarf } from "../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let sale: { id: string };
type Member = Awaited<ReturnType<typeof buildMember>>;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  sale = await buildSale(base.db);
});
afterAll(() => base.drop());

const given = (member: Member, more: object = {}, item: Partial<ItemDetails> = {}) => ({
  saleId: sale.id,
  memberId: member.id,
  item: scarf(item),
  agreementVersion: 1,
  ...more,
});

const run = (member: Member, more: object = {}, item: Partial<ItemDetails> = {}, key?: string) =>
  enterItem(deedOf(base.db, member, key), given(member, more, item), early);

const codeOf = (result: { ok: boolean; problem?: { code: string } }) =>
  result.ok ? "ok" : result.problem?.code;

const fieldsOf = (result: { ok: boolean; problem?: { errors: { field: string }[] } }) =>
  result.problem?.errors.map(({ field }) => field);

describe("entering one item", () => {
  test("gives the next tag at once and counts the pieces as with the member", async () => {
    const member = await buildMember(base.db);
    const entered = await run(member, {}, { quantity: 3 });
    const second = await run(member);
    if (!entered.ok || !second.ok) throw new Error("refused");
    expect(entered.value.tag.slice(0, 6)).toBe(`${member.number}001`);
    expect(second.value.tag.slice(0, 6)).toBe(`${member.number}002`);
    expect(readTag(entered.value.tag, [8])).toEqual({ ok: true, value: entered.value.tag });
    const count = await base.db.itemCount.findUniqueOrThrow({
      where: { itemId: entered.value.id },
    });
    expect(count).toMatchObject({ entered: 3, withMember: 3, onFloor: 0 });
    const audit = await base.db.audit.findFirst({ where: { subjectId: entered.value.id } });
    expect(audit).toMatchObject({ deed: "enter-item", byId: member.id });
  });

  test("sent twice with the same key is entered once", async () => {
    const member = await buildMember(base.db);
    const key = "the-same-key-twice";
    const [one, two] = [await run(member, {}, {}, key), await run(member, {}, {}, key)];
    expect(one).toEqual(two);
    expect(await base.db.item.count({ where: { memberId: member.id } })).toBe(1);
    expect(codeOf(await run(member, {}, { price: 5_000 }, key))).toBe("key-reused");
  });

  test("twelve at once get twelve different tags without a gap", async () => {
    const member = await buildMember(base.db);
    const all = await Promise.all(Array.from({ length: 12 }, () => run(member)));
    const numbers = all.map((one) => (one.ok ? one.value.number : -1)).sort((a, b) => a - b);
    expect(numbers).toEqual(Array.from({ length: 12 }, (_, index) => index + 1));
  });

  test("a refused entry leaves no gap", async () => {
    const member = await buildMember(base.db);
    expect(codeOf(await run(member, {}, { price: 501 }))).toBe("invalid-input");
    const entered = await run(member);
    expect(entered.ok && entered.value.number).toBe(1);
  });

  test("every fault is named at once", async () => {
    const member = await buildMember(base.db);
    const refused = await run(member, {}, { kind: "castle", fibres: [], price: -1, quantity: 0 });
    expect(fieldsOf(refused)).toEqual(["kind", "fibres", "price", "quantity"]);
  });

  test("a kind that is no longer used cannot be entered", async () => {
    const member = await buildMember(base.db);
    await base.db.kind.update({ where: { code: "ornament" }, data: { active: false } });
    expect(fieldsOf(await run(member, {}, { kind: "ornament" }))).toEqual(["kind"]);
  });
});

describe("what the member agrees to", () => {
  test("must be ticked once, in its present wording", async () => {
    const member = await buildMember(base.db);
    const without = await run(member, { agreementVersion: undefined });
    expect(codeOf(without)).toBe("invalid-input");
    expect(fieldsOf(without)).toEqual(["agreementVersion"]);
    expect(codeOf(await run(member, { agreementVersion: 7 }))).toBe("changed-meanwhile");
    expect(codeOf(await run(member))).toBe("ok");
    expect(codeOf(await run(member, { agreementVersion: undefined }))).toBe("ok");
    expect(await base.db.acceptance.count({ where: { memberId: member.id } })).toBe(1);
  });
});

describe("who may enter when", () => {
  test.each<[string, Date, boolean, boolean]>([
    ["planning", early, false, false],
    ["entries-open", early, true, true],
    ["entries-open", late, false, true],
    ["entries-closed", late, false, true],
    ["selling", late, false, true],
    ["settling", late, false, false],
    ["closed", late, false, false],
  ])("%s at %s: member %s, desk %s", async (stage, now, asMember, asDesk) => {
    const { id: saleId } = await buildSale(base.db, { stage });
    const member = await buildMember(base.db);
    const helper = await buildMember(base.db, ["desk"]);
    const entry = given(member, { saleId });
    const own = await enterItem(deedOf(base.db, member), entry, now);
    const helped = await enterItem(deedOf(base.db, helper), entry, now);
    expect([codeOf(own), codeOf(helped)]).toEqual([
      asMember ? "ok" : "stage-closed",
      asDesk ? "ok" : "stage-closed",
    ]);
  });

  test("a member cannot enter for another, and nobody for one who rests or for no sale", async () => {
    const member = await buildMember(base.db);
    const other = await buildMember(base.db);
    const chair = await buildMember(base.db, ["chair"]);
    const resting = await buildMember(base.db, ["member"], { status: "resting" });
    expect(codeOf(await run(other, { memberId: member.id }))).toBe("not-allowed");
    expect(codeOf(await run(chair, { memberId: member.id }))).toBe("ok");
    expect(fieldsOf(await run(chair, { memberId: resting.id }))).toEqual(["memberNumber"]);
    expect(codeOf(await run(member, { saleId: member.id }))).toBe("not-found");
  });
});

describe("limits", () => {
  test("two at once for the last place: one passes", async () => {
    const { id: saleId } = await buildSale(base.db, { itemLimit: 3 });
    for (let round = 0; round < 10; round += 1) {
      const member = await buildMember(base.db);
      await run(member, { saleId });
      await run(member, { saleId });
      const both = await Promise.all([run(member, { saleId }), run(member, { saleId })]);
      expect(both.map(codeOf).sort()).toEqual(["limit-reached", "ok"]);
    }
  });

  test("of a kind hold for that kind alone; withdrawn items leave room", async () => {
    const { id: saleId } = await buildSale(base.db);
    const kind = await base.db.kind.findUniqueOrThrow({ where: { code: "towel" } });
    await base.db.kindLimit.create({ data: { saleId, kindId: kind.id, most: 1 } });
    const member = await buildMember(base.db);
    const first = await run(member, { saleId }, { kind: "towel" });
    const refused = await run(member, { saleId }, { kind: "towel" });
    expect([codeOf(refused), fieldsOf(refused)]).toEqual(["limit-reached", ["kind"]]);
    expect(codeOf(await run(member, { saleId }))).toBe("ok");
    if (!first.ok) throw new Error("refused");
    await base.db.item.update({
      where: { id: first.value.id },
      data: { withdrawnAt: new Date() },
    });
    expect(codeOf(await run(member, { saleId }, { kind: "towel" }))).toBe("ok");
  });

  test("the last number of a short tag is 999", async () => {
    const member = await buildMember(base.db, ["member"], { nextItemNumber: 999 });
    const entered = await run(member);
    expect(entered.ok && entered.value.tag.slice(3, 6)).toBe("999");
    expect(codeOf(await run(member))).toBe("limit-reached");
  });
});

describe("several at once", () => {
  const several = (member: Member, items: ItemDetails[], key?: string) =>
    enterItems(
      deedOf(base.db, member, key),
      { saleId: sale.id, memberId: member.id, agreementVersion: 1, items },
      early,
    );

  test("all get their tags in order", async () => {
    const member = await buildMember(base.db);
    const entered = await several(member, [scarf(), scarf({ quantity: 2 }), scarf()], "bulk-key");
    const again = await several(member, [scarf(), scarf({ quantity: 2 }), scarf()], "bulk-key");
    expect(entered).toEqual(again);
    expect(entered.ok && entered.value.map(({ number }) => number)).toEqual([1, 2, 3]);
  });

  test("one fault keeps all out and names its row", async () => {
    const member = await buildMember(base.db);
    const refused = await several(member, [scarf(), scarf({ price: 1 }), scarf()]);
    expect(fieldsOf(refused)).toEqual(["items.1.price"]);
    expect(await base.db.item.count({ where: { memberId: member.id } })).toBe(0);
  });

  test("a limit is counted over the rows as well", async () => {
    const { id: saleId } = await buildSale(base.db, { itemLimit: 2 });
    const member = await buildMember(base.db);
    const items = [scarf(), scarf(), scarf()];
    const entry = { saleId, memberId: member.id, agreementVersion: 1, items };
    const refused = await enterItems(deedOf(base.db, member), entry, early);
    expect(codeOf(refused)).toBe("limit-reached");
    expect(await base.db.item.count({ where: { memberId: member.id } })).toBe(0);
  });
});
