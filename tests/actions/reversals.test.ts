import { afterAll, beforeAll, expect, test } from "vitest";
import { cashUp } from "../../src/actions/cash-up.ts";
import { openTill } from "../../src/actions/open-till.ts";
import { recordReceipt } from "../../src/actions/record-receipt.ts";
import { returnGoods } from "../../src/actions/return-goods.ts";
import { voidReceipt } from "../../src/actions/void-receipt.ts";
import { readReceipt } from "../../src/database/receipts.ts";
import { deedOf } from "../support/build.ts";
import {
  type BuiltPiece,
  buildHall,
  buildPieces,
  expectBooks,
  receiptFor,
} from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 3);
});
afterAll(() => base.drop());

const deed = (key?: string) => deedOf(base.db, hall.cashier, key);
const pieces = (...wanted: Parameters<typeof buildPieces>[3]) =>
  buildPieces(base.db, hall.sale, hall.weaver, wanted);
const balance = async (account: string) => {
  const where = { accountKey: account };
  const sum = await base.db.posting.aggregate({ where, _sum: { amount: true } });
  return Number(sum._sum.amount ?? 0n);
};
const onFloor = async ({ id }: BuiltPiece) =>
  (await base.db.itemCount.findUniqueOrThrow({ where: { itemId: id } })).onFloor;

async function sell(lines: Parameters<typeof receiptFor>[1], more: object = {}, till = 0) {
  const receipt = receiptFor(hall.tills[till]!, lines, more);
  const result = await recordReceipt(deed(), { ...receipt, saleId: hall.sale.id });
  if (!result.ok) throw new Error(result.problem.detail);
  const stored = await readReceipt(base.db, receipt.id);
  return { ...receipt, stored: stored! };
}

const back = (
  receipt: { id: string },
  lines: { lineId: string; quantity: number }[],
  more: object = {},
  key?: string,
) =>
  returnGoods(deed(key), {
    receiptId: receipt.id,
    tillId: hall.tills[0]!.id,
    lines: lines.map((line) => ({ goesTo: "floor" as const, ...line })),
    tender: { kind: "cash" },
    reason: "wrong colour",
    ...more,
  });

test("a void puts everything back, keeps both numbers, and the piece sells again", async () => {
  const [scarf] = await pieces({ price: 4_200 });
  const drawer = `drawer/${hall.tills[0]!.id}`;
  const before = await balance(drawer);
  const sale = await sell([scarf!]);
  const gone = await voidReceipt(deed(), { receiptId: sale.id, reason: "typed the wrong tag" });
  expect(gone).toMatchObject({ ok: true, value: { back: sale.total } });
  expect(await balance(drawer)).toBe(before);
  expect(await balance(`member/${hall.weaver.id}`)).toBe(0);
  expect(await onFloor(scarf!)).toBe(1);
  const again = await sell([scarf!]);
  expect(again.stored.number).toBe(sale.stored.number + 2);
  const read = await readReceipt(base.db, sale.id);
  expect(read).toMatchObject({ total: sale.total, reversedBy: [{ kind: "void" }] });
});

test("a void gives each tender back the way it came", async () => {
  const [scarf] = await pieces({ price: 10_000 });
  const before = [await balance("cheques"), await balance("card-clearing")];
  const tenders = [
    { kind: "cheque", amount: 800, reference: "7" },
    { kind: "card", amount: 10_025 },
  ];
  const sale = await sell([scarf!], { tenders });
  await voidReceipt(deed(), { receiptId: sale.id, reason: "changed their mind" });
  expect([await balance("cheques"), await balance("card-clearing")]).toEqual(before);
});

test("a second void, two at once, and a void of a void are refused", async () => {
  const [scarf] = await pieces({ price: 900 });
  const sale = await sell([scarf!]);
  const both = await Promise.all([
    voidReceipt(deed(), { receiptId: sale.id, reason: "one" }),
    voidReceipt(deed(), { receiptId: sale.id, reason: "two" }),
  ]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(both.find(({ ok }) => !ok)).toMatchObject({ problem: { code: "already-done" } });
  const made = both.find(({ ok }) => ok);
  const id = made?.ok ? made.value.id : "";
  expect(await voidReceipt(deed(), { receiptId: id, reason: "no" })).toMatchObject({
    problem: { code: "already-done" },
  });
});

test("the same void under one key is done once and answers the same", async () => {
  const [scarf] = await pieces({ price: 950 });
  const sale = await sell([scarf!]);
  const input = { receiptId: sale.id, reason: "one" };
  const both = await Promise.all([
    voidReceipt(deed("void-twice"), input),
    voidReceipt(deed("void-twice"), input),
  ]);
  expect(both[0]).toEqual(both[1]);
  expect(both[0]!.ok).toBe(true);
  expect(await base.db.receipt.count({ where: { reversesId: sale.id } })).toBe(1);
});

test("a stack comes back in parts with its exact tax, and not one piece more", async () => {
  // 3 at 3.33 are 9.99; 8.25 % of it is 0.824175, so 0.82 of tax over three pieces.
  const [stack] = await pieces({ price: 333, quantity: 3 });
  const sale = await sell([{ piece: stack!, quantity: 3 }]);
  expect(sale.stored.tax).toBe(82);
  const lineId = sale.stored.lines[0]!.id;
  const first = await back(sale, [{ lineId, quantity: 1 }]);
  const second = await back(sale, [{ lineId, quantity: 2 }]);
  // One third of 82 is 27.33, so 27 come back with the first piece and 55 with the other two.
  expect(first).toMatchObject({ value: { back: 333 + 27 } });
  expect(second).toMatchObject({ value: { back: 666 + 55 } });
  expect(await back(sale, [{ lineId, quantity: 1 }])).toMatchObject({
    problem: { code: "invalid-input", errors: [{ field: "lines.0.quantity" }] },
  });
  expect(await onFloor(stack!)).toBe(3);
  expect((await readReceipt(base.db, sale.id))!.lines[0]!.returned).toBe(3);
});

test("two returns of the last piece at once: one is recorded", async () => {
  const [scarf] = await pieces({ price: 1_000 });
  const sale = await sell([scarf!]);
  const line = { lineId: sale.stored.lines[0]!.id, quantity: 1 };
  const both = await Promise.all([back(sale, [line]), back(sale, [line])]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
});

test("a return and a void of one receipt at once: one of them", async () => {
  for (let round = 0; round < 10; round += 1) {
    const [scarf] = await pieces({ price: 1_000 });
    const sale = await sell([scarf!]);
    const line = { lineId: sale.stored.lines[0]!.id, quantity: 1 };
    const both = await Promise.all([
      back(sale, [line]),
      voidReceipt(deed(), { receiptId: sale.id, reason: "mistake" }),
    ]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    expect(await onFloor(scarf!)).toBe(1);
  }
});

test("money can go back another way and at another till, yet not out of an empty drawer", async () => {
  const [scarf] = await pieces({ price: 30_000 });
  const tenders = [{ kind: "card", amount: 32_475, reference: "T-1" }];
  const sale = await sell([scarf!], { tenders });
  const lines = [{ lineId: sale.stored.lines[0]!.id, quantity: 1 }];
  const empty = await back(sale, lines, { tillId: hall.tills[2]!.id });
  expect(empty).toMatchObject({
    problem: { code: "invalid-input", errors: [{ field: "tender.kind" }] },
  });
  const card = { tillId: hall.tills[2]!.id, tender: { kind: "card", reference: "T-2" } };
  expect(await back(sale, lines, card)).toMatchObject({ ok: true, value: { back: 32_475 } });
});

test("unknown lines, closed tills and returns of returns are refused", async () => {
  const [scarf] = await pieces({ price: 500 });
  const sale = await sell([scarf!]);
  const lineId = sale.stored.lines[0]!.id;
  const line = { lineId, quantity: 1 };
  expect(await back(sale, [{ lineId: sale.id, quantity: 1 }])).toMatchObject({
    problem: { errors: [{ field: "lines.0.lineId" }] },
  });
  expect(await back(sale, [line, line])).toMatchObject({ ok: false });
  const shut = await base.db.till.create({ data: { saleId: hall.sale.id, number: 8, name: "" } });
  expect(await back(sale, [line], { tillId: shut.id })).toMatchObject({
    problem: { code: "till-closed" },
  });
  const done = await back(sale, [line]);
  if (!done.ok) throw new Error(done.problem.detail);
  const returned = await readReceipt(base.db, done.value.id);
  const ofReturn = [{ lineId: returned!.lines[0]!.id, quantity: 1 }];
  expect(await back(returned!, ofReturn)).toMatchObject({ problem: { code: "already-done" } });
});

test("cash-up: the difference goes to over and short, once, with two names", async () => {
  const till = hall.tills[1]!;
  const [scarf] = await pieces({ price: 2_000 });
  const sale = await sell([scarf!], {}, 1);
  const input = { tillId: till.id, counted: 12_000, witness: "Second Counter", note: "" };
  const short = await balance("over-short");
  const alone = await cashUp(deed(), { ...input, witness: ` ${hall.cashier.name.toUpperCase()} ` });
  expect(alone).toMatchObject({ problem: { errors: [{ field: "witness" }] } });
  const both = await Promise.all([cashUp(deed(), input), cashUp(deed(), input)]);
  expect(both.filter(({ ok }) => ok)).toEqual([
    {
      ok: true,
      value: {
        sessionId: till.sessionId,
        expected: 12_165,
        counted: 12_000,
        difference: -165,
      },
    },
  ]);
  expect(both.find(({ ok }) => !ok)).toMatchObject({ problem: { code: "till-closed" } });
  expect((await balance("over-short")) - short).toBe(165);
  expect(await balance(`drawer/${till.id}`)).toBe(0);
  const late = await voidReceipt(deed(), { receiptId: sale.id, reason: "too late" });
  expect(late).toMatchObject({ problem: { code: "till-closed" } });
});

test("a till opens once, at the stages that sell or take back", async () => {
  const till = hall.tills[1]!;
  const both = await Promise.all([
    openTill(deed(), { tillId: till.id, float: 0 }),
    openTill(deed(), { tillId: till.id, float: 0 }),
  ]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(both.find(({ ok }) => !ok)).toMatchObject({ problem: { code: "already-done" } });
  await base.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "closed" } });
  const shut = await base.db.till.create({ data: { saleId: hall.sale.id, number: 7, name: "" } });
  expect(await openTill(deed(), { tillId: shut.id, float: 0 })).toMatchObject({
    problem: { code: "stage-closed" },
  });
  await base.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "selling" } });
});

test("after all of it the books hold", async () => {
  expect(await expectBooks(base.db)).toEqual({ ledger: 0, pieces: 0 });
});
