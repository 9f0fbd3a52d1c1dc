import { afterAll, beforeAll, expect, test } from "vitest";
import { identifyLine } from "../../src/actions/identify-line.ts";
import { recordFact } from "../../src/actions/record-fact.ts";
import type { ReceiptFact } from "../../src/contract/till-fact.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { takingsOf } from "../../src/database/takings.ts";
import { deedOf } from "../support/build.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { lineOf, returnFact, saleFact, untagged } from "../support/till-facts.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
const next = new Map<number, number>();
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db);
  for (const till of hall.tills)
    await base.db.tillDevice.create({
      data: { tillId: till.id, name: "Phone", tokenHash: till.id, enrolledById: hall.chair.id },
    });
});
afterAll(() => base.drop());

const from = (till: number) => ({
  ...{ db: base.db, tillId: hall.tills[till]!.id, saleId: hall.sale.id, requestId: "test" },
});
const send = (till: number, fact: ReceiptFact) => recordFact(from(till), fact);
const numberOf = (till: number) => {
  next.set(till, (next.get(till) ?? 0) + 1);
  return next.get(till)!;
};
const sale = (till: number, lines: ReceiptFact["lines"], more: Partial<ReceiptFact> = {}) =>
  saleFact(hall, hall.tills[till]!, numberOf(till), lines, more);
const pieces = (...wanted: Parameters<typeof buildPieces>[3]) =>
  buildPieces(base.db, hall.sale, hall.weaver, wanted);
const balance = async (accountKey: string) => {
  const sum = await base.db.posting.aggregate({ where: { accountKey }, _sum: { amount: true } });
  return Number(sum._sum.amount ?? 0n);
};
const notesOf = (receiptId: string) =>
  base.db.discrepancy.findMany({ where: { receiptId }, orderBy: { id: "asc" } });
const sound = async () => {
  const books = await checkBooks(base.db);
  expect(books.checks.flatMap(({ broken }) => broken ?? [])).toEqual([]);
  expect(books.unaccounted).toEqual({ pieces: 0, money: 0 });
  expect((await takingsOf(base.db, hall.sale.id)).unaccounted).toBe(0);
};

test("a sale from a till is recorded once, however often it comes", async () => {
  const [scarf] = await pieces({ price: 4_000 });
  const fact = sale(0, [lineOf(scarf!)]);
  expect(await send(0, fact)).toEqual({
    ok: true,
    value: { id: fact.id, recorded: "now", notes: [] },
  });
  const again = await Promise.all(Array.from({ length: 20 }, () => send(0, fact)));
  for (const answer of again)
    expect(answer).toMatchObject({ ok: true, value: { recorded: "before", notes: [] } });
  const row = await base.db.receipt.findUniqueOrThrow({ where: { id: fact.id } });
  expect([row.number, row.madeAt.toISOString()]).toEqual([fact.number, fact.madeAt]);
  await sound();
});

test("the same piece sold at two tills that were off line: one is paid, one is in suspense", async () => {
  const [shawl] = await pieces({ price: 12_000 });
  const owed = await balance(`member/${hall.weaver.id}`);
  const suspense = await balance("suspense");
  const drawers = await Promise.all(hall.tills.map(({ id }) => balance(`drawer/${id}`)));
  const facts = [sale(0, [lineOf(shawl!)]), sale(1, [lineOf(shawl!)])];
  const answers = await Promise.all(facts.map((fact, till) => send(till, fact)));
  const notes = answers.flatMap((answer) => (answer.ok ? answer.value.notes : ["refused"]));
  expect(notes).toEqual(["sold-twice"]);
  expect(await balance(`member/${hall.weaver.id}`)).toBe(owed - 12_000);
  expect(await balance("suspense")).toBe(suspense - 12_000);
  for (const [till, before] of drawers.slice(0, 2).entries())
    expect(await balance(`drawer/${hall.tills[till]!.id}`)).toBe(before + facts[till]!.total);
  await sound();
});

test("a piece without a tag waits in suspense until the treasurer says whose it is, once", async () => {
  const fact = sale(0, [untagged(5_000, hall.weaver.number)]);
  await send(0, fact);
  const owed = await balance(`member/${hall.weaver.id}`);
  const input = { lineId: fact.lines[0]!.id, memberId: hall.weaver.id, itemId: null };
  const say = () =>
    identifyLine(deedOf(base.db, hall.treasurer), { ...input, reason: "She knew it at once" });
  const said = await Promise.all([say(), say(), say()]);
  expect(said.filter(({ ok }) => ok)).toHaveLength(1);
  for (const answer of said.filter(({ ok }) => !ok))
    expect(answer).toMatchObject({ problem: { code: "already-done" } });
  expect(await balance(`member/${hall.weaver.id}`)).toBe(owed - 5_000);
  await sound();
});

test("identified with its tag, the piece leaves the floor; not when it is gone already", async () => {
  const [found, gone] = await pieces({ price: 3_000 }, { price: 3_000 });
  await send(0, sale(0, [lineOf(gone!)]));
  const fact = sale(0, [untagged(3_000), untagged(3_000)]);
  await send(0, fact);
  const say = (line: number, itemId: string) =>
    identifyLine(deedOf(base.db, hall.treasurer), {
      lineId: fact.lines[line]!.id,
      ...{ memberId: hall.weaver.id, itemId, reason: "The tag lay under the table" },
    });
  expect(await say(0, found!.id)).toMatchObject({ ok: true });
  expect(await say(1, gone!.id)).toMatchObject({ problem: { code: "not-on-floor" } });
  const count = await base.db.itemCount.findUniqueOrThrow({ where: { itemId: found!.id } });
  expect([count.onFloor, count.withBuyer]).toEqual([0, 1]);
  await sound();
});

test("other content under a recorded id is kept beside it and changes nothing", async () => {
  const [scarf] = await pieces({ price: 2_000 });
  const fact = sale(0, [lineOf(scarf!)]);
  await send(0, fact);
  const changed = { ...fact, reason: "something else" };
  for (const _ of [1, 2])
    expect(await send(0, changed)).toMatchObject({
      value: { recorded: "before", notes: ["receipt-differs"] },
    });
  expect((await notesOf(fact.id)).map(({ kind }) => kind)).toEqual(["receipt-differs"]);
});

test("figures that differ from ours are recorded as the money was taken, and told", async () => {
  const [scarf] = await pieces({ price: 2_000 });
  const plain = sale(0, [lineOf(scarf!)]);
  const fact = {
    ...plain,
    lines: plain.lines.map((line) => ({ ...line, tax: 100 })),
    taxes: plain.taxes.map((tax) => ({ ...tax, tax: 100 })),
    tenders: [{ kind: "cash" as const, amount: 2_100, reference: "" }],
    ...{ tax: 100, total: 2_100, cashGiven: 2_100 },
  };
  expect(await send(0, fact)).toMatchObject({ value: { notes: ["figures-differ"] } });
  const [note] = await notesOf(fact.id);
  expect(note!.detail).toMatchObject({ sent: { total: 2_100 }, ours: { total: 2_165 } });
  await sound();
});

test("figures that do not add up become one line in suspense worth what was paid", async () => {
  const [scarf] = await pieces({ price: 2_000 });
  const fact = sale(0, [lineOf(scarf!)], { subtotal: 1_999 });
  const suspense = await balance("suspense");
  expect(await send(0, fact)).toMatchObject({ value: { notes: ["figures-broken"] } });
  expect(await balance("suspense")).toBe(suspense - 2_165);
  await sound();
});

test("another price than the list's, an unknown tag and goods nobody knows are told and kept", async () => {
  const [scarf] = await pieces({ price: 2_000 });
  const dear = { ...lineOf(scarf!), unitPrice: 2_500, amount: 2_500 };
  const stranger = { ...lineOf(scarf!), tag: "99999998" };
  const bag = { ...untagged(300), kind: "goods" as const, goodsId: hall.sale.id };
  const answer = await send(0, sale(0, [dear, stranger, bag]));
  expect(answer).toMatchObject({
    value: { notes: ["price-differs", "unknown-tag", "unknown-goods"] },
  });
  await sound();
});

test("a later number waits for the earlier one; a number given twice takes the next", async () => {
  const [one, two, three] = await pieces({ price: 900 }, { price: 900 }, { price: 900 });
  const first = sale(0, [lineOf(one!)]);
  const second = sale(0, [lineOf(two!)]);
  expect(await send(0, second)).toMatchObject({ problem: { code: "out-of-order" } });
  expect(await send(0, first)).toMatchObject({ value: { recorded: "now" } });
  expect(await send(0, second)).toMatchObject({ value: { recorded: "now" } });
  const twice = saleFact(hall, hall.tills[0]!, second.number, [lineOf(three!)]);
  expect(await send(0, twice)).toMatchObject({ value: { notes: ["number-twice"] } });
  numberOf(0);
  const row = await base.db.receipt.findUniqueOrThrow({ where: { id: twice.id } });
  expect(row.number).toBe(second.number + 1);
  await sound();
});

test("a return gives back the exact tax, to the floor or home; a second one is in suspense", async () => {
  const [scarf, shawl] = await pieces({ price: 1_999 }, { price: 3_333 });
  const sold = sale(0, [lineOf(scarf!), lineOf(shawl!)]);
  await send(0, sold);
  const plain = returnFact(sold, hall.tills[1]!, numberOf(1));
  const home = plain.lines.map((line, index) => ({
    ...line,
    goesTo: index === 0 ? ("floor" as const) : ("member" as const),
  }));
  expect(await send(1, { ...plain, lines: home })).toMatchObject({ value: { notes: [] } });
  const counts = await base.db.itemCount.findMany({
    where: { itemId: { in: [scarf!.id, shawl!.id] } },
  });
  const at = (id: string) => counts.find(({ itemId }) => itemId === id);
  expect([at(scarf!.id)!.onFloor, at(shawl!.id)!.withMember]).toEqual([1, 1]);
  const twice = await send(1, returnFact(sold, hall.tills[1]!, numberOf(1)));
  expect(twice).toMatchObject({ value: { notes: ["returned-twice", "returned-twice"] } });
  await sound();
});

test("a return that comes before its sale waits in suspense and clears when the sale arrives", async () => {
  const [scarf] = await pieces({ price: 7_000 });
  const suspense = await balance("suspense");
  const owed = await balance(`member/${hall.weaver.id}`);
  const sold = sale(0, [lineOf(scarf!)]);
  const back = returnFact(sold, hall.tills[1]!, numberOf(1));
  expect(await send(1, back)).toMatchObject({ value: { notes: ["awaits-sale"] } });
  expect(await balance("suspense")).toBe(suspense + 7_000);
  await sound();
  expect(await send(0, sold)).toMatchObject({ value: { notes: [] } });
  expect(await balance("suspense")).toBe(suspense);
  expect(await balance(`member/${hall.weaver.id}`)).toBe(owed);
  const count = await base.db.itemCount.findUniqueOrThrow({ where: { itemId: scarf!.id } });
  expect([count.onFloor, count.withBuyer]).toEqual([1, 0]);
  await sound();
});

test("a server that dies before it clears a return clears it when the sale comes again", async () => {
  const [scarf] = await pieces({ price: 7_000 });
  const suspense = await balance("suspense");
  const sold = sale(0, [lineOf(scarf!)]);
  await send(1, returnFact(sold, hall.tills[1]!, numberOf(1)));
  const dying = new Proxy(base.db, {
    get(db, name) {
      const isSold = async () => (await db.receipt.count({ where: { id: sold.id } })) > 0;
      if (name !== "$queryRaw") return Reflect.get(db, name);
      return async (...query: Parameters<typeof db.$queryRaw>) => {
        if (await isSold()) throw new Error("The server died");
        return db.$queryRaw(...query);
      };
    },
  });
  await expect(recordFact({ ...from(0), db: dying }, sold)).rejects.toThrow("The server died");
  expect(await balance("suspense")).toBe(suspense + 7_000);
  expect(await send(0, sold)).toMatchObject({ value: { recorded: "before", notes: [] } });
  expect(await balance("suspense")).toBe(suspense);
  await sound();
});

test("a cashier whom the guild does not know, or who may not sell, is told and kept", async () => {
  const [scarf] = await pieces({ price: 1_000 });
  const answer = await send(0, sale(0, [lineOf(scarf!)], { cashierId: hall.weaver.id }));
  expect(answer).toMatchObject({ value: { notes: ["cashier-unknown"] } });
});
