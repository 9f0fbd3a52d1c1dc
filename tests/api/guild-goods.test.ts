import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";

let base: TestApp;
let chair: Client;
let member: Client;
let sale: { id: string };
let goods: string;

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
  member = await signedIn(base, await buildMember(base.db));
  sale = await buildSale(base.db, { stage: "selling" });
  goods = `/api/sales/${sale.id}/goods`;
});
afterAll(() => base.close());

const fields = (answer: { body: { errors: { field: string }[] } }) =>
  answer.body.errors.map(({ field }) => field);
const add = async (name: string, more: object = {}) => {
  const answer = await chair.post(goods, { name, kind: "goods", price: 300, ...more });
  expect(answer.status).toBe(201);
  return answer.body.id as string;
};
const change = (id: string, more: object = {}) =>
  chair.put(`/api/guild-goods/${id}`, {
    ...{ name: "Bag", kind: "goods", price: 300, taxKind: "", position: 1, retired: false },
    ...{ version: 1, ...more },
  });

describe("adding a button", () => {
  test("the same key adds one; the list shows it to the chair and not to members", async () => {
    const key = v7();
    const body = { name: "Raffle ticket", kind: "goods", price: 200, taxKind: "bag" };
    const [one, two] = [await chair.post(goods, body, key), await chair.post(goods, body, key)];
    expect([one.status, two.body]).toEqual([201, one.body]);
    const list = await chair.get(goods);
    expect(list.body.items).toEqual([
      { id: one.body.id, ...body, position: 1, retired: false, version: 1 },
    ]);
    expect((await member.get(goods)).status).toBe(403);
    expect((await member.post(goods, { ...body, name: "Mine" })).status).toBe(403);
  });

  test.each<[string, object, string]>([
    ["no name", { name: " " }, "name"],
    ["too long a name", { name: "x".repeat(41) }, "name"],
    ["a name that is there in other letters", { name: "RAFFLE ticket" }, "name"],
    ["a price of nothing", { price: 0 }, "price"],
    ["a price below zero", { price: -1 }, "price"],
    ["a fraction of a cent", { price: 2.5 }, "price"],
    ["a price as words", { price: "3.00" }, "price"],
    ["an unknown kind of button", { kind: "loan" }, "kind"],
    ["a tax kind that nobody has", { taxKind: "no-such-kind" }, "taxKind"],
  ])("%s is refused at its field", async (_what, wrong, field) => {
    const before = await base.db.guildGood.count();
    const answer = await chair.post(goods, { name: "Mug", kind: "goods", price: 400, ...wrong });
    expect([answer.status, fields(answer)]).toEqual([400, [field]]);
    expect(await base.db.guildGood.count()).toBe(before);
  });
});

describe("changing a button", () => {
  test("of two at once one wins, and an old screen changes nothing", async () => {
    const id = await add("Bag");
    const both = await Promise.all([change(id, { price: 400 }), change(id, { price: null })]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect((await change(id)).body.code).toBe("changed-meanwhile");
    expect((await change(v7())).status).toBe(404);
  });

  test("what is taken off the tills gives its name free, and comes back only when it fits", async () => {
    const id = await add("Card");
    expect((await change(id, { name: "Card", retired: true })).status).toBe(200);
    await add("Card");
    const back = await change(id, { name: "Card", version: 2 });
    expect([back.status, fields(back)]).toEqual([400, ["name"]]);
  });

  test("a closed sale keeps its buttons; another sale's page does not know them", async () => {
    const id = await add("Pin");
    const elsewhere = await buildSale(base.db, { name: "Other sale" });
    const form = { name: "Pin", kind: "goods", price: "9", position: "1", version: "1" };
    const foreign = await chair.submit(`/sales/${elsewhere.id}/goods/${id}`, form);
    expect(foreign.status).toBe(404);
    await base.db.sale.update({ where: { id: sale.id }, data: { stage: "closed" } });
    expect((await change(id, { name: "Pin", price: 900 })).status).toBe(409);
    expect((await chair.post(goods, { name: "Late", kind: "goods" })).status).toBe(409);
    expect(await base.db.guildGood.findUnique({ where: { id } })).toMatchObject({ price: 300n });
    await base.db.sale.update({ where: { id: sale.id }, data: { stage: "selling" } });
  });

  test("there is room for 24 buttons, and one that was taken off cannot make it 25", async () => {
    const full = await buildSale(base.db);
    const row = (index: number) => ({
      ...{ saleId: full.id, name: `Button ${index}`, kind: "goods", position: index },
      ...(index === 25 ? { retiredAt: new Date() } : {}),
    });
    const rows = Array.from({ length: 25 }, (_, index) => row(index + 1));
    await base.db.guildGood.createMany({ data: rows });
    const more = await chair.post(`/api/sales/${full.id}/goods`, { name: "More", kind: "goods" });
    expect(more.body.code).toBe("limit-reached");
    const off = await base.db.guildGood.findFirstOrThrow({ where: { name: "Button 25" } });
    expect((await change(off.id, { name: "Button 25" })).body.code).toBe("limit-reached");
  });
});
