import { v7 } from "uuid";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { recordAdjustment } from "../../../src/actions/adjustments/record-adjustment.ts";
import { takeBackAdjustment } from "../../../src/actions/adjustments/take-back-adjustment.ts";
import { adjustmentShape } from "../../../src/contract/adjustment.ts";
import { listAdjustments } from "../../../src/database/adjustments.ts";
import { checkBooks } from "../../../src/database/check-books.ts";
import type { Result } from "../../../src/rules/problem.ts";
import { deedOf } from "../../support/build.ts";
import { moveTo } from "../../support/build-items.ts";
import { done } from "../../support/build-settlement.ts";
import { buildHelpers, type Helpers } from "../../support/build-shifts.ts";
import { freshDatabase, type TestDatabase } from "../../support/database.ts";

let base: TestDatabase;
let people: Helpers;
beforeEach(async () => {
  await base?.drop();
  base = await freshDatabase();
  people = await buildHelpers(base.db);
});
afterAll(() => base.drop());

const code = (result: Result<unknown>) => (result.ok ? "ok" : result.problem.code);
const record = (amount: number, key?: string, member = people.weaver.number) =>
  recordAdjustment(deedOf(base.db, people.treasurer, key), people.sale.id, {
    ...{ member, amount, reason: "Broke a hanger of the guild's" },
  });
const takeBack = (adjustmentId: string, key?: string) =>
  takeBackAdjustment(deedOf(base.db, people.treasurer, key), {
    ...{ adjustmentId, reason: "It was another member" },
  });
const balance = async (accountKey: string) => {
  const sum = await base.db.posting.aggregate({ where: { accountKey }, _sum: { amount: true } });
  return Number(sum._sum.amount ?? 0n);
};
const balances = async () => [
  await balance("adjustments"),
  await balance(`member/${people.weaver.id}`),
];
const sound = async () => expect(await checkBooks(base.db)).toMatchObject({ sound: true });

describe("an adjustment", () => {
  test.each([
    [1_250, [1_250, -1_250]],
    [-400, [-400, 400]],
  ])("of %i posts at once, once for one key", async (amount, expected) => {
    const key = v7();
    const [one, two] = [await record(amount, key), await record(amount, key)];
    expect(done(two)).toEqual(done(one));
    expect(await balances()).toEqual(expected);
    expect(await base.db.adjustment.count()).toBe(1);
    expect(await base.db.audit.count({ where: { deed: "record-adjustment" } })).toBe(1);
    await sound();
  });

  test("two at once with keys of their own are two", async () => {
    await Promise.all([record(100, v7()), record(100, v7())]);
    expect(await balances()).toEqual([200, -200]);
  });

  test.each([["planning"], ["entries-open"], ["entries-closed"], ["closed"]])(
    "is refused while the sale is at the stage %s",
    async (stage) => {
      await moveTo(base.db, people.sale, stage);
      expect(code(await record(100))).toBe("stage-closed");
      expect(await base.db.journalEntry.count()).toBe(0);
    },
  );

  test("needs a member, an amount other than zero, sane, and a reason", async () => {
    expect(code(await record(100, undefined, 9_999))).toBe("invalid-input");
    const wrong = (more: object) =>
      adjustmentShape
        .safeParse({ member: 100, amount: 5, reason: "x", ...more })
        .error?.issues.map(({ path }) => path[0]);
    expect(wrong({ amount: 0 })).toEqual(["amount"]);
    expect(wrong({ amount: 100_000_001 })).toEqual(["amount"]);
    expect(wrong({ amount: -100_000_001 })).toEqual(["amount"]);
    expect(wrong({ amount: 1.5 })).toEqual(["amount"]);
    expect(wrong({ reason: "  " })).toEqual(["reason"]);
    expect(wrong({})).toBeUndefined();
  });
});

describe("taking one back", () => {
  test("is its opposite, once, also for two at once, and leaves nothing owed", async () => {
    const { id } = done(await record(-400));
    const key = v7();
    const both = await Promise.all([takeBack(id, key), takeBack(id, v7())]);
    expect(both.map(code).sort()).toEqual(["already-done", "ok"]);
    expect(code(await takeBack(id))).toBe("already-done");
    expect(await balances()).toEqual([0, 0]);
    expect(await base.db.adjustment.count()).toBe(2);
    await sound();
  });

  test("what takes another back cannot be taken back, and what is not there is not found", async () => {
    const { id } = done(await record(500));
    const back = done(await takeBack(id));
    expect(back.amount).toBe(-500);
    expect(code(await takeBack(back.id))).toBe("already-done");
    expect(code(await takeBack(v7()))).toBe("not-found");
  });

  test("waits for no closed sale", async () => {
    const { id } = done(await record(500));
    await moveTo(base.db, people.sale, "closed");
    expect(code(await takeBack(id))).toBe("stage-closed");
  });
});

test("the list is newest first, pages and finds members and reasons", async () => {
  const { id } = done(await record(-400));
  done(await record(100, undefined, people.other.number));
  done(await takeBack(id));
  const list = (more: object = {}) =>
    listAdjustments(base.db, people.sale.id, { limit: 50, ...more });
  expect((await list()).items).toMatchObject([
    { amount: 400, takesBackId: id, statementNumber: null, by: people.treasurer.name },
    { amount: 100, memberNumber: people.other.number, takenBack: false },
    { amount: -400, takenBack: true },
  ]);
  const amounts = async (more: object) => (await list(more)).items.map(({ amount }) => amount);
  expect(await amounts({ q: "another member" })).toEqual([400]);
  expect(await amounts({ q: String(people.other.number) })).toEqual([100]);
  const { next } = await list({ limit: 2 });
  expect(await amounts({ after: next, limit: 2 })).toEqual([-400]);
});

test("the database lets nobody change or delete one, or write one of zero", async () => {
  const { id } = done(await record(-400));
  const { db } = base;
  for (const sql of [
    db.$executeRaw`UPDATE adjustment SET amount = 1 WHERE id = ${id}::uuid`,
    db.$executeRaw`DELETE FROM adjustment`,
    db.$executeRaw`TRUNCATE adjustment CASCADE`,
  ])
    await expect(sql).rejects.toThrow(/never changed or deleted/);
  const row = { id: v7(), saleId: people.sale.id, memberId: people.weaver.id };
  const zero = { ...row, amount: 0n, reason: "x", byId: people.chair.id };
  await expect(db.adjustment.create({ data: zero })).rejects.toThrow(/adjustment_amount/);
});
