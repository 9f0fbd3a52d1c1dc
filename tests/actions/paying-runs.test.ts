import { v7 } from "uuid";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { dropRunItems, payRunItems } from "../../src/actions/end-run-items.ts";
import { recordPayout } from "../../src/actions/record-payout.ts";
import { voidPayout } from "../../src/actions/void-payout.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { listToPrepare } from "../../src/database/to-prepare.ts";
import { deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { buildOwed, ibans, type Owed, prepareBoth, typeBank } from "../support/build-paying.ts";
import { done } from "../support/build-settlement.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let owed: Owed;
beforeEach(async () => {
  await base?.drop();
  base = await freshDatabase();
  owed = await buildOwed(base.db);
});
afterAll(() => base.drop());

const treasurer = (key?: string) => deedOf(base.db, owed.treasurer, key);
const prepare = (
  ...more: Parameters<typeof prepareBoth> extends [unknown, unknown, ...infer R] ? R : never
) => prepareBoth(base.db, owed, ...more);
const pay = (runId: string, positions: number[] | null = null, key?: string) =>
  payRunItems(treasurer(key), runId, { positions, paidOn: "2026-12-05" });
const drop = (runId: string, positions: number[] | null = null, key?: string) =>
  dropRunItems(treasurer(key), runId, { positions, reason: "Spoilt" });
const itemsOf = (runId: string) =>
  base.db.payingRunItem.findMany({ where: { runId }, orderBy: { position: "asc" } });
const balance = async (accountKey: string) => {
  const sum = await base.db.posting.aggregate({ where: { accountKey }, _sum: { amount: true } });
  return Number(sum._sum.amount ?? 0n);
};
const sound = async () => expect(await checkBooks(base.db)).toMatchObject({ sound: true });
const codes = (all: readonly { ok: boolean; problem?: { code: string } }[]) =>
  all.flatMap((one) => (one.ok ? [] : [one.problem?.code]));

describe("preparing", () => {
  test("freezes payee, amount and cheque numbers that run on with their zeros", async () => {
    await typeBank(base.db, owed.weaver, { payee: "Ada Weaver" });
    const { runId, number, payments, total } = done(await prepare());
    expect([number, payments, total]).toEqual([1, 2, 9_464]);
    const rows = await itemsOf(runId);
    expect(rows.map(({ payee, amount, reference }) => [payee, amount, reference])).toEqual([
      ["Ada Weaver", 6_798n, "0099"],
      [owed.other.name, 2_666n, "0100"],
    ]);
    expect(await base.db.payout.count()).toBe(0);
    await sound();
  });

  test("twice with one key makes one run; ten at once with their own keys make one", async () => {
    const key = v7();
    const first = await prepare("cheque", { key });
    expect(await prepare("cheque", { key })).toEqual(first);
    done(await drop(done(first).runId));
    const all = await Promise.all(
      Array.from({ length: 10 }, (_, index) =>
        prepare("cheque", { firstCheque: `${index + 1}00` }),
      ),
    );
    expect(all.filter(({ ok }) => ok)).toHaveLength(1);
    expect(codes(all)).toEqual(Array(9).fill("changed-meanwhile"));
    await sound();
  });

  test("takes nothing that is paid, waits elsewhere, is unknown or of a sale that still sells", async () => {
    const input = { method: "cash" as const, reference: "", paidOn: "2026-12-05" };
    const paid = done(await recordPayout(treasurer(), { statementId: owed.mine, ...input }));
    expect(await prepare()).toMatchObject({ problem: { code: "changed-meanwhile" } });
    done(await voidPayout(treasurer(), { payoutId: paid.payoutId, reason: "Miscounted" }));
    expect(await prepare("cash", { statementIds: [v7()] })).toMatchObject({ ok: false });
    await moveTo(base.db, owed.sale, "selling");
    expect(await prepare()).toMatchObject({ problem: { code: "changed-meanwhile" } });
    await moveTo(base.db, owed.sale, "closed");
    expect(await prepare()).toMatchObject({ ok: true });
    expect((await listToPrepare(base.db, { limit: 9 })).items).toEqual([]);
  });

  test.each([
    ["a cheque without a number", "cheque", { firstCheque: "" }, "firstCheque"],
    ["a number that is none", "cheque", { firstCheque: "12a" }, "firstCheque"],
    ["a transfer without an account", "transfer", {}, "statementIds"],
    ["a day before the sale", "cash", { day: "2025-12-05" }, "day"],
    ["a day far ahead", "cash", { day: "2062-12-05" }, "day"],
  ] as const)("%s is refused by its field", async (_name, method, more, field) => {
    const refused = await prepare(method, more);
    expect(refused).toMatchObject({ problem: { status: 400, errors: [{ field }] } });
    expect(await base.db.payingRun.count()).toBe(0);
  });

  test("never gives a cheque's number twice, unless its payment was dropped", async () => {
    const { runId } = done(await prepare("cheque", { statementIds: [owed.mine] }));
    const other = { statementIds: [owed.theirs], firstCheque: "0099" };
    expect(await prepare("cheque", other)).toMatchObject({
      problem: { errors: [{ field: "firstCheque", message: expect.stringContaining("0099") }] },
    });
    done(await drop(runId));
    expect(await prepare("cheque", other)).toMatchObject({ ok: true });
  });
});

describe("recording as paid", () => {
  test("all at once becomes a payout each, in the books and the audit list", async () => {
    const { runId } = done(await prepare());
    expect(done(await pay(runId))).toMatchObject({ payments: 2, total: 9_464 });
    expect(await balance("bank")).toBe(-9_464);
    expect(await balance(`member/${owed.weaver.id}`)).toBe(0);
    const payouts = await base.db.payout.findMany({ orderBy: { reference: "asc" } });
    expect(payouts.map(({ method, reference }) => [method, reference])).toEqual([
      ["cheque", "0099"],
      ["cheque", "0100"],
    ]);
    await sound();
  });

  test("one by one, and the same again is told who did it", async () => {
    const { runId } = done(await prepare("cash"));
    const before = await balance("cash-box");
    done(await pay(runId, [2]));
    expect(await balance("cash-box")).toBe(before - 2_666);
    const again = await pay(runId, [2]);
    expect(again).toMatchObject({ problem: { code: "already-done" } });
    expect(again.ok ? "" : again.problem.detail).toContain(owed.treasurer.name);
    expect(await pay(runId, [1, 2])).toMatchObject({ problem: { code: "already-done" } });
    expect(await pay(runId, [3])).toMatchObject({ problem: { code: "not-found" } });
    expect(done(await pay(runId)).payments).toBe(1);
    await sound();
  });

  test("ten at once pay once; the double press answers what it answered", async () => {
    const { runId } = done(await prepare());
    const key = v7();
    const twins = await Promise.all([pay(runId, null, key), pay(runId, null, key)]);
    expect(twins[0]).toEqual(twins[1]);
    const all = await Promise.all(Array.from({ length: 8 }, () => pay(runId)));
    expect(codes(all)).toEqual(Array(8).fill("already-done"));
    expect(await base.db.payout.count()).toBe(2);
    expect(await balance("bank")).toBe(-9_464);
    await sound();
  });

  test("drop and pay at once: each payment has one outcome", async () => {
    const { runId } = done(await prepare());
    await Promise.all([pay(runId), drop(runId), pay(runId, [1]), drop(runId, [2])]);
    const rows = await itemsOf(runId);
    expect(rows.every(({ outcome }) => outcome !== null)).toBe(true);
    const paid = rows.filter(({ outcome }) => outcome === "paid").length;
    expect(await base.db.payout.count()).toBe(paid);
    await sound();
  });

  test("keeps a payout beside the run away, until the payment is dropped", async () => {
    const { runId } = done(await prepare());
    const input = {
      statementId: owed.mine,
      method: "cash" as const,
      reference: "",
      paidOn: "2026-12-05",
    };
    const beside = await recordPayout(treasurer(), input);
    expect(beside).toMatchObject({ problem: { code: "still-open" } });
    expect(beside.ok ? "" : beside.problem.detail).toContain("paying run 1");
    done(await drop(runId, [1]));
    done(await recordPayout(treasurer(), input));
    expect(await pay(runId, [1])).toMatchObject({ problem: { code: "already-done" } });
    await sound();
  });

  test("a payout beside a run cannot even be written past the code", async () => {
    done(await prepare());
    const row = {
      statementId: owed.mine,
      attempt: 1,
      method: "cash",
      reference: "",
      amount: 6_798n,
    };
    const data = { ...row, paidOn: new Date("2026-12-05"), byId: owed.treasurer.id };
    await expect(base.db.payout.create({ data })).rejects.toThrow();
  });

  test("refuses a strange day and an unknown run", async () => {
    const { runId } = done(await prepare());
    const far = await payRunItems(treasurer(), runId, { positions: null, paidOn: "2062-01-01" });
    expect(far).toMatchObject({ problem: { errors: [{ field: "paidOn" }] } });
    expect(await pay(v7())).toMatchObject({ problem: { code: "not-found" } });
    expect(await base.db.payout.count()).toBe(0);
  });
});

describe("again", () => {
  test("a dropped payment is prepared again", async () => {
    const { runId } = done(await prepare());
    done(await drop(runId, [2]));
    const second = done(await prepare("cash", { statementIds: [owed.theirs] }));
    expect([second.number, second.payments]).toEqual([2, 1]);
    await sound();
  });

  test("a payout of a run that is taken back is prepared again, with another number", async () => {
    const { runId } = done(await prepare());
    done(await pay(runId));
    const [first] = await itemsOf(runId);
    done(await voidPayout(treasurer(), { payoutId: first!.payoutId!, reason: "Lost in the post" }));
    const once = { statementIds: [owed.mine] };
    expect(await prepare("cheque", once)).toMatchObject({
      problem: { errors: [{ field: "firstCheque" }] },
    });
    const again = done(await prepare("cheque", { ...once, firstCheque: "0200" }));
    done(await pay(again.runId));
    expect(await base.db.payout.count({ where: { voided: null } })).toBe(2);
    await sound();
  });
});

test("what a run holds is never changed or deleted, except for its outcome", async () => {
  await typeBank(base.db, owed.weaver, { account: ibans.german });
  const { runId } = done(await prepare("transfer", { statementIds: [owed.mine] }));
  const where = { runId_position: { runId, position: 1 } };
  for (const data of [{ amount: 1n }, { account: "X" }, { payee: "Me" }, { outcome: "paid" }])
    await expect(base.db.payingRunItem.update({ where, data })).rejects.toThrow();
  await expect(base.db.payingRunItem.delete({ where })).rejects.toThrow();
  await expect(
    base.db.payingRun.update({ where: { id: runId }, data: { number: 9 } }),
  ).rejects.toThrow();
  done(await drop(runId));
  const back = { outcome: null, reason: "", endedById: null, endedAt: null };
  await expect(base.db.payingRunItem.update({ where, data: back })).rejects.toThrow();
});

test("the check of the books sees a payment that differs from its payout", async () => {
  const { runId } = done(await prepare());
  done(await pay(runId));
  await base.db.$executeRaw`ALTER TABLE paying_run_item DISABLE TRIGGER keep_rows`;
  await base.db.payingRunItem.updateMany({ where: { runId, position: 1 }, data: { amount: 1n } });
  await base.db.$executeRaw`ALTER TABLE paying_run_item ENABLE TRIGGER keep_rows`;
  const { sound: isSound, checks } = await checkBooks(base.db);
  expect(isSound).toBe(false);
  expect(checks.map(({ broken }) => broken).join()).toContain("Payment 1 of paying run 1");
});
