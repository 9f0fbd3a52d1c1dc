import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
import { buildUnsold } from "../support/build-unsold.ts";

let base: TestApp;
let member: Member;
let own: Client;
let other: Client;
let sale: { id: string };

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  other = await signedIn(base, await buildMember(base.db));
});
afterAll(() => base.close());

const text = [
  "Kind,Description,Price,Fibres,Hours for one",
  "Towel,Huck towel,28,cotton,2:30",
  "Hat,Huck towel,28,cotton,",
  "Scarf,Twill scarf,45,wool,",
].join("\n");

test("a list is looked at, entered, read, taken back and put back", async () => {
  const path = `/api/sales/${sale.id}/items/list`;
  const look = await own.post(`${path}/preview`, { text });
  expect(look.status).toBe(200);
  expect(look.body).toMatchObject({ good: 2, faulty: 1, twins: 0, ignored: [] });
  expect(look.body.rows[1]).toMatchObject({
    row: 3,
    cells: { kind: "Hat", price: "28" },
    faults: [{ field: "kind" }],
    twin: false,
  });
  const key = v7();
  const given = { text, agreementVersion: 1, expected: 2 };
  const entered = await own.post(path, given, key);
  expect([entered.status, entered.body.leftOut]).toEqual([201, 1]);
  expect(entered.body.entered.map(({ row }: { row: number }) => row)).toEqual([2, 4]);
  expect((await own.post(path, given, key)).body).toEqual(entered.body);

  const list = `/api/item-lists/${entered.body.listId}`;
  expect((await own.get(list)).body).toMatchObject({
    ...{ source: "spreadsheet", saleId: sale.id, saleName: "Autumn sale" },
    ...{ pieces: 2, asEntered: 2, withdrawn: 0, takenBack: 0, leftOut: 1 },
  });
  const all = await own.get(`/api/item-lists?saleId=${sale.id}`);
  expect(all.body).toMatchObject({ items: [{ id: entered.body.listId }], next: null });
  for (const answer of [
    await other.get(list),
    await other.post(`${list}/withdrawal`),
    await other.delete(`${list}/withdrawal`),
  ])
    expect(answer.status).toBe(404);
  const taken = await own.post(`${list}/withdrawal`);
  expect([taken.status, taken.body.tags.length, taken.body.kept]).toEqual([201, 2, 0]);
  expect((await own.delete(`${list}/withdrawal`)).body.tags).toEqual(taken.body.tags);
  expect((await own.get(list)).body).toMatchObject({ asEntered: 2, takenBack: 0 });
});

test("faults of a whole list and of the sender are problems by name", async () => {
  const path = `/api/sales/${sale.id}/items/list`;
  const answers = [
    await own.post(`${path}/preview`, { text: "" }),
    await own.post(`${path}/preview`, { text: "a,b\n1,2" }),
    await own.post(`/api/sales/${v7()}/items/list/preview`, { text }),
    await own.post(`${path}/preview`, { text, memberNumber: 101 }),
    await own.post(path, { text, twins: "enter", expected: 7 }),
    await own.post(path, { text, twins: "perhaps" }),
  ];
  expect(answers.map(({ status, body }) => [status, body.code])).toEqual([
    [400, "invalid-input"],
    [400, "invalid-input"],
    [404, "not-found"],
    [403, "not-allowed"],
    [409, "changed-meanwhile"],
    [400, "invalid-input"],
  ]);
});

test("unsold pieces are entered again at a price of their own or at the old one", async () => {
  const { items } = await buildUnsold(base.db, member, [
    { description: "Moss scarf", price: 4_500 },
    { description: "Straw shawl", kind: "shawl", price: 12_000 },
  ]);
  const path = `/api/sales/${sale.id}/items/unsold`;
  const wanted = [{ itemId: items[0]!.id, price: 4_000 }, { itemId: items[1]!.id }];
  const wrong = await own.post(path, { items: [{ ...wanted[0], price: 4_050 }] });
  expect([wrong.status, wrong.body.errors[0].field]).toEqual([400, "items.0.price"]);
  expect((await own.post(path, { items: [] })).status).toBe(400);
  expect((await other.post(path, { items: wanted, agreementVersion: 1 })).status).toBe(404);
  const done = await own.post(path, { items: wanted });
  expect(done.status).toBe(201);
  expect(done.body.entered.map(({ earlierId }: { earlierId: string }) => earlierId)).toEqual(
    items.map(({ id }) => id),
  );
  const prices = await base.db.item.findMany({
    where: { id: { in: done.body.entered.map(({ id }: { id: string }) => id) } },
    orderBy: { number: "asc" },
    select: { price: true },
  });
  expect(prices).toEqual([{ price: 4_000n }, { price: 12_000n }]);
  const { body } = await own.get(path);
  expect(body.items.map(({ again }: { again: { id: string } | null }) => again?.id)).toEqual(
    done.body.entered.map(({ id }: { id: string }) => id).reverse(),
  );
  expect((await own.post(path, { items: wanted })).body.code).toBe("already-done");
});
