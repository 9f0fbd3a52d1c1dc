import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { cashUp, closeAsCounted, countDrawer } from "../../src/actions/cash-up.ts";
import { moveCash, recordCashMoveFact } from "../../src/actions/move-cash.ts";
import { noteStatus } from "../../src/actions/note-status.ts";
import { openTill } from "../../src/actions/open-till.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { buildMember, deedOf } from "../support/build.ts";
import { buildHall } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 1);
});
afterAll(() => base.drop());

const deed = () => deedOf(base.db, hall.cashier);
const balance = async (accountKey: string) => {
  const sum = await base.db.posting.aggregate({ where: { accountKey }, _sum: { amount: true } });
  return Number(sum._sum.amount ?? 0n);
};

let number = 20;
async function openWith(float: number, counts?: { value: number; count: number }[]) {
  number += 1;
  const till = await base.db.till.create({ data: { saleId: hall.sale.id, number, name: "" } });
  const opened = await openTill(deed(), { tillId: till.id, float, counts });
  return { tillId: till.id, opened };
}

async function till(float: number) {
  const { tillId, opened } = await openWith(float);
  if (!opened.ok) throw new Error(opened.problem.detail);
  return { tillId, sessionId: opened.value.sessionId };
}

const byTwo = { witness: "Second Counter", note: "" };

test("a float counted by notes and coins is kept, largest first and without zeros", async () => {
  const { opened } = await openWith(3_025, [
    { value: 25, count: 1 },
    { value: 10, count: 0 },
    { value: 1_000, count: 3 },
  ]);
  if (!opened.ok) throw new Error(opened.problem.detail);
  const row = await base.db.tillSession.findUniqueOrThrow({
    where: { id: opened.value.sessionId },
  });
  expect(row).toMatchObject({
    float: 3_025n,
    counts: [
      { value: 1_000, count: 3 },
      { value: 25, count: 1 },
    ],
  });
});

test("a count that is not the sum, or of no such coin, opens nothing", async () => {
  const off = await openWith(3_000, [{ value: 1_000, count: 2 }]);
  expect(off.opened).toMatchObject({ problem: { errors: [{ field: "float" }] } });
  const unknown = await openWith(3, [{ value: 3, count: 1 }]);
  expect(unknown.opened).toMatchObject({ problem: { errors: [{ field: "counts.0.value" }] } });
  expect(await base.db.tillSession.count({ where: { tillId: off.tillId } })).toBe(0);
});

test("cash moves between the drawer and its other side, once for each id", async () => {
  const { tillId } = await till(10_000);
  const before = { safe: await balance("safe"), in: await balance("paid-in") };
  const out = { id: v7(), tillId, kind: "to-safe" as const, amount: 6_000, reason: "" };
  const counted = { ...out, counts: [{ value: 2_000, count: 3 }] };
  const first = await moveCash(deed(), counted);
  expect(first).toEqual({ ok: true, value: { id: out.id, recorded: "now" } });
  const again = await moveCash(deed(), counted);
  expect(again).toEqual({ ok: true, value: { id: out.id, recorded: "before" } });
  expect(await moveCash(deed(), { ...counted, amount: 4_000, counts: [] })).toMatchObject({
    problem: { code: "key-reused" },
  });
  const given = { id: v7(), tillId, kind: "paid-in" as const, amount: 500, reason: "Change" };
  expect(await moveCash(deed(), given)).toMatchObject({ value: { recorded: "now" } });
  expect(await balance(`drawer/${tillId}`)).toBe(4_500);
  expect((await balance("safe")) - before.safe).toBe(6_000);
  expect((await balance("paid-in")) - before.in).toBe(-500);
  const entry = await base.db.journalEntry.findFirstOrThrow({ where: { subjectId: out.id } });
  expect(entry.kind).toBe("cash-move");
});

test("no more leaves a drawer than it holds, also when two take it at once", async () => {
  const { tillId } = await till(10_000);
  const take = () =>
    moveCash(deed(), { id: v7(), tillId, kind: "paid-out", amount: 6_000, reason: "Tape" });
  const both = await Promise.all([take(), take()]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(both.find(({ ok }) => !ok)).toMatchObject({ problem: { errors: [{ field: "amount" }] } });
  // The refusal must not give away what the cash-up is to find out.
  expect(JSON.stringify(both)).not.toContain("40.00");
  expect(await balance(`drawer/${tillId}`)).toBe(4_000);
  const all = { id: v7(), tillId, kind: "to-safe" as const, amount: 4_000, reason: "" };
  expect(await moveCash(deed(), all)).toMatchObject({ ok: true });
});

test("cash in and out says what for, and only moves at an open till", async () => {
  const { tillId } = await till(1_000);
  const move = { id: v7(), tillId, kind: "paid-out" as const, amount: 10, reason: "" };
  expect(await moveCash(deed(), move)).toMatchObject({
    problem: { errors: [{ field: "reason" }] },
  });
  const taken = { ...move, reason: "Stamps" };
  expect(await moveCash(deed(), taken)).toMatchObject({ ok: true });
  await cashUp(deed(), { tillId, counted: 990, ...byTwo });
  expect(await moveCash(deed(), { ...taken, id: v7() })).toMatchObject({
    problem: { code: "till-closed" },
  });
  // Sent again after the till was closed, it is still the move that was recorded.
  expect(await moveCash(deed(), taken)).toMatchObject({ value: { recorded: "before" } });
});

test("a count that meets the books closes the till at once and keeps its notes and coins", async () => {
  const { tillId, sessionId } = await till(2_005);
  const counts = [
    { value: 2_000, count: 1 },
    { value: 5, count: 1 },
  ];
  const done = await countDrawer(deed(), { tillId, counted: 2_005, counts, ...byTwo });
  expect(done).toMatchObject({ value: { closed: true, difference: 0 } });
  const row = await base.db.cashUp.findUniqueOrThrow({ where: { tillSessionId: sessionId } });
  expect(row).toMatchObject({ counts, note: "", witness: "Second Counter" });
});

test("a first count that differs leaves the till open; the second closes it and keeps the first", async () => {
  const { tillId, sessionId } = await till(5_000);
  const first = await countDrawer(deed(), { tillId, counted: 4_000, ...byTwo });
  expect(first).toMatchObject({ value: { closed: false, expected: 5_000, difference: -1_000 } });
  expect(await base.db.cashUp.count({ where: { tillSessionId: sessionId } })).toBe(0);
  const note = "A roll was misread";
  const second = await countDrawer(deed(), { tillId, counted: 4_990, ...byTwo, note });
  expect(second).toMatchObject({ value: { closed: true, difference: -10 } });
  const row = await base.db.cashUp.findUniqueOrThrow({ where: { tillSessionId: sessionId } });
  expect(row.note.split("\n")).toEqual([
    note,
    `Counted before: $40.00, by ${hall.cashier.name} and Second Counter.`,
  ]);
});

test("a first count can stand: its two people are named, whoever closes the till", async () => {
  const { tillId, sessionId } = await till(5_000);
  await countDrawer(deed(), { tillId, counted: 4_000, ...byTwo, note: "Odd" });
  const done = await closeAsCounted(deedOf(base.db, hall.treasurer), { tillId });
  expect(done).toMatchObject({ value: { counted: 4_000, difference: -1_000 } });
  const row = await base.db.cashUp.findUniqueOrThrow({ where: { tillSessionId: sessionId } });
  expect(row).toMatchObject({ byId: hall.cashier.id, witness: "Second Counter", note: "Odd" });
  expect(await closeAsCounted(deed(), { tillId })).toMatchObject({
    problem: { code: "till-closed" },
  });
});

test("a count is stale once the drawer has changed; it stays in the note all the same", async () => {
  const { tillId, sessionId } = await till(5_000);
  await countDrawer(deed(), { tillId, counted: 4_000, ...byTwo });
  const move = { id: v7(), tillId, kind: "paid-in" as const, amount: 100, reason: "Change" };
  await moveCash(deed(), move);
  expect(await closeAsCounted(deed(), { tillId })).toMatchObject({
    problem: { code: "changed-meanwhile" },
  });
  const next = await countDrawer(deed(), { tillId, counted: 4_100, ...byTwo });
  expect(next).toMatchObject({ value: { closed: false } });
  await closeAsCounted(deed(), { tillId });
  const row = await base.db.cashUp.findUniqueOrThrow({ where: { tillSessionId: sessionId } });
  expect(row.counted).toBe(4_100n);
  expect(row.note).toContain("$40.00");
});

test("the second name is another person's, however it is typed", async () => {
  const person = await buildMember(base.db, ["cashier"]);
  const { tillId } = await till(100);
  const own = deedOf(base.db, person);
  const typed = `  ${person.name.toUpperCase().replace(" ", "   ")} `;
  const alone = await countDrawer(own, { tillId, counted: 100, witness: typed, note: "" });
  expect(alone).toMatchObject({ problem: { errors: [{ field: "witness" }] } });
});

test("a till is not cashed up before its device has sent everything; a lost one hinders nobody", async () => {
  const { tillId } = await till(100);
  const count = () => countDrawer(deed(), { tillId, counted: 100, ...byTwo });
  const device = { tillId, name: "Phone", tokenHash: v7(), enrolledById: hall.chair.id };
  await base.db.tillDevice.create({ data: { ...device, unsent: 2 } });
  const unsent = await count();
  expect(unsent).toMatchObject({ problem: { code: "still-open" } });
  expect(unsent.ok ? "" : unsent.problem.detail).toMatch(/keeps 2 .*Open its page on line/);
  await base.db.tillDevice.update({ where: { tillId }, data: { unsent: 0, lastNumber: 3 } });
  const behind = await cashUp(deed(), { tillId, counted: 100, ...byTwo });
  expect(behind.ok ? "" : behind.problem.detail).toMatch(/counts to receipt 3, and 0 are here/);
  await base.db.tillDevice.update({ where: { tillId }, data: { lostAt: new Date() } });
  expect(await count()).toMatchObject({ value: { closed: true } });
});

test("what a device says of moved cash is kept without a reason too, once for twins", async () => {
  const { tillId, sessionId } = await till(1_000);
  const device = { tillId, name: "Phone", tokenHash: v7(), enrolledById: hall.chair.id };
  await base.db.tillDevice.create({ data: device });
  const from = { db: base.db, tillId, saleId: hall.sale.id, requestId: "test" };
  const fact = {
    ...{ id: v7(), madeAt: new Date().toISOString(), tillSessionId: sessionId, counts: [] },
    ...{ cashierId: hall.cashier.id, kind: "paid-out" as const, amount: 1_500, reason: "" },
  };
  const both = await Promise.all([recordCashMoveFact(from, fact), recordCashMoveFact(from, fact)]);
  expect(both.map((one) => one.ok && one.value.recorded).sort()).toEqual(["before", "now"]);
  const row = await base.db.cashMove.findUniqueOrThrow({ where: { id: fact.id } });
  expect(row).toMatchObject({ reason: "No reason given", amount: 1_500n });
  expect(await base.db.discrepancy.count({ where: { kind: "drawer-below-zero" } })).toBe(1);
  const earlier = { ...fact, id: v7(), kind: "paid-in" as const, tillSessionId: v7() };
  expect(await recordCashMoveFact(from, earlier)).toMatchObject({
    value: { notes: ["after-cash-up"] },
  });
  await cashUp(deed(), { tillId, counted: 1_000, ...byTwo });
  expect(await recordCashMoveFact(from, { ...fact, id: v7() })).toMatchObject({
    problem: { code: "till-closed" },
  });
});

test("that all is sent, and up to which number, is noted at once", async () => {
  const { tillId } = await till(0);
  const lastSeenAt = new Date();
  const device = { tillId, name: "Phone", tokenHash: v7(), enrolledById: hall.chair.id };
  await base.db.tillDevice.create({ data: { ...device, lastSeenAt } });
  const known = {
    ...{ tillId, number: 1, saleId: hall.sale.id, device: "Phone", tokenHash: "" },
    ...{ lastSeenAt, unsent: 0, lastNumber: 0 },
  };
  const soon = new Date(lastSeenAt.getTime() + 1_000);
  const noted = async () => {
    const row = await base.db.tillDevice.findUniqueOrThrow({ where: { tillId } });
    return [row.unsent, row.lastNumber];
  };
  await noteStatus(base.db, known, { unsent: 1, lastNumber: 7 }, soon);
  expect(await noted()).toEqual([0, 0]);
  await noteStatus(base.db, known, { unsent: 0, lastNumber: 7 }, soon);
  expect(await noted()).toEqual([0, 7]);
});

test("after all of it the books are sound", async () => {
  expect(await checkBooks(base.db)).toMatchObject({ sound: true });
});
