import { afterAll, beforeAll, expect, test } from "vitest";
import { cashUp } from "../../src/actions/cash-up.ts";
import { findOwner } from "../../src/actions/find-owner.ts";
import { openTill } from "../../src/actions/open-till.ts";
import { recordFact } from "../../src/actions/record-fact.ts";
import { type ReceiptFact, receiptFact } from "../../src/contract/till-fact.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { deedOf } from "../support/build.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { lineOf, returnFact, saleFact, untagged } from "../support/till-facts.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
const next = new Map<number, number>();
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 3);
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
const sound = async () => {
  const books = await checkBooks(base.db);
  expect(books.checks.flatMap(({ broken }) => broken ?? [])).toEqual([]);
  expect(books.unaccounted).toEqual({ pieces: 0, money: 0 });
};

const drawerOf = (till: number) => balance(`drawer/${hall.tills[till]!.id}`);
const owed = () => balance(`member/${hall.weaver.id}`);

/** Recorded as one suspended line: the drawer has its money, and nobody is credited. */
async function heldWhole(fact: ReceiptFact): Promise<void> {
  const [drawer, member] = [await drawerOf(0), await owed()];
  expect(await send(0, fact)).toMatchObject({ value: { notes: ["not-as-sent"] } });
  expect(await send(0, fact)).toMatchObject({ value: { recorded: "before" } });
  expect([await drawerOf(0), await owed()]).toEqual([drawer + fact.total, member]);
  await sound();
}

test("a line id that is taken cannot hold up the till: the money waits in suspense", async () => {
  const [one, two, three] = await pieces({ price: 900 }, { price: 800 }, { price: 700 });
  const twice = sale(0, [lineOf(one!), lineOf(two!)]);
  twice.lines[1]!.id = twice.lines[0]!.id;
  await heldWhole(twice);
  const other = sale(0, [lineOf(three!)]);
  other.lines[0]!.id = (await base.db.receiptLine.findFirstOrThrow()).id;
  await heldWhole(other);
});

test("a tax that the books have no account for goes whole into suspense", async () => {
  const [scarf] = await pieces({ price: 900 });
  const fact = sale(0, [lineOf(scarf!)]);
  await heldWhole({ ...fact, taxes: fact.taxes.map((tax) => ({ ...tax, code: "nowhere" })) });
  const count = await base.db.itemCount.findUniqueOrThrow({ where: { itemId: scarf!.id } });
  expect(count.onFloor).toBe(1);
});

test("a second void of one receipt, and a return without a reason, are kept", async () => {
  const [scarf, shawl] = await pieces({ price: 900 }, { price: 1_900 });
  const sold = sale(0, [lineOf(scarf!)]);
  await send(0, sold);
  const calledOff = () => returnFact(sold, hall.tills[0]!, numberOf(0), { kind: "void" });
  expect(await send(0, calledOff())).toMatchObject({ value: { notes: [] } });
  await heldWhole(calledOff());
  const other = sale(0, [lineOf(shawl!)]);
  await send(0, other);
  const back = returnFact(other, hall.tills[0]!, numberOf(0), { reason: "" });
  expect(await send(0, back)).toMatchObject({ value: { notes: [] } });
  const row = await base.db.receipt.findUniqueOrThrow({ where: { id: back.id } });
  expect(row.reason).toBe("No reason given");
});

test("a sale that takes something back, a return of nothing and a year 0 are no facts", () => {
  const fact = saleFact(hall, hall.tills[0]!, 1, [untagged(500)]);
  const ok = (more: object) => receiptFact.safeParse({ ...fact, ...more }).success;
  const reversesId = fact.id;
  expect([ok({}), ok({ kind: "return", reversesId }), ok({ kind: "void", reversesId })]).toEqual([
    true,
    true,
    true,
  ]);
  expect([ok({ reversesId }), ok({ kind: "return" }), ok({ kind: "void" })]).toEqual([
    false,
    false,
    false,
  ]);
  expect(ok({ madeAt: "1970-01-01T00:00:00Z" })).toBe(true);
  expect(ok({ madeAt: "0000-01-01T00:00:00Z" })).toBe(false);
});

test("two returns that wait for one sale take its piece back once, and so does a third", async () => {
  const [shawl] = await pieces({ price: 7_000 });
  const [before, suspense] = [await owed(), await balance("suspense")];
  const sold = sale(0, [lineOf(shawl!)]);
  const back = () => send(1, returnFact(sold, hall.tills[1]!, numberOf(1)));
  await back();
  await back();
  await send(0, sold);
  expect(await back()).toMatchObject({ value: { notes: ["returned-twice"] } });
  expect(await owed()).toBe(before);
  expect(await balance("suspense")).toBe(suspense + 14_000);
  await sound();
});

test("a piece without a tag comes back once, however many returns waited for its owner", async () => {
  const [before, suspense] = [await owed(), await balance("suspense")];
  const sold = sale(0, [untagged(600)]);
  for (const _ of [1, 2]) await send(1, returnFact(sold, hall.tills[1]!, numberOf(1)));
  await send(0, sold);
  const input = { lineId: sold.lines[0]!.id, owner: "member" as const, reason: "She knew it" };
  const found = await findOwner(deedOf(base.db, hall.treasurer), {
    ...input,
    member: hall.weaver.number,
  });
  expect(found.ok).toBe(true);
  expect(await owed()).toBe(before);
  expect(await balance("suspense")).toBe(suspense + 600);
  await sound();
});

test("what comes after its drawer was cashed up waits until the till is open, and then counts", async () => {
  const [scarf] = await pieces({ price: 2_000 });
  const fact = sale(2, [lineOf(scarf!)]);
  const { id: tillId } = hall.tills[2]!;
  const expected = await drawerOf(2);
  /** The last thing the device said before it lost its line: all is sent. */
  const saysUpTo = (lastNumber: number) =>
    base.db.tillDevice.update({ where: { tillId }, data: { lastNumber } });
  await saysUpTo(fact.number - 1);
  const byTwo = { witness: "Second Counter", note: "" };
  const closed = { tillId, counted: expected + fact.total, ...byTwo };
  expect(await cashUp(deedOf(base.db, hall.cashier), closed)).toMatchObject({ ok: true });
  expect(await send(2, fact)).toMatchObject({ problem: { code: "till-closed" } });
  await openTill(deedOf(base.db, hall.cashier), { tillId, float: 0 });
  expect(await send(2, fact)).toMatchObject({ value: { notes: ["after-cash-up"] } });
  expect(await drawerOf(2)).toBe(fact.total);
  await saysUpTo(fact.number);
  const second = await cashUp(deedOf(base.db, hall.cashier), { tillId, counted: 0, ...byTwo });
  expect(second).toMatchObject({ value: { difference: -fact.total } });
  expect(await balance("over-short")).toBe(0);
  await sound();
});
