import { v7 } from "uuid";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { type PayoutInput, recordPayout } from "../../src/actions/record-payout.ts";
import { voidPayout } from "../../src/actions/void-payout.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { buildSettling, done, settleNow } from "../support/build-settlement.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let statementId: string;
beforeEach(async () => {
  await base?.drop();
  base = await freshDatabase();
  hall = await buildSettling(base.db);
  const { settlementId } = await settleNow(base.db, hall);
  const where = { settlementId, memberId: hall.weaver.id };
  statementId = (await base.db.statement.findFirstOrThrow({ where })).id;
});
afterAll(() => base.drop());

const pay = (more: Partial<PayoutInput> = {}, key?: string) =>
  recordPayout(deedOf(base.db, hall.treasurer, key), {
    statementId,
    method: "cheque",
    reference: "1001",
    paidOn: "2026-12-05",
    ...more,
  });

const takeBack = (payoutId: string, key?: string) =>
  voidPayout(deedOf(base.db, hall.treasurer, key), { payoutId, reason: "Lost in the post" });

const balance = async (accountKey: string) => {
  const sum = await base.db.posting.aggregate({ where: { accountKey }, _sum: { amount: true } });
  return Number(sum._sum.amount ?? 0n);
};

const sound = async () => expect(await checkBooks(base.db)).toMatchObject({ sound: true });

describe("a payout", () => {
  test("pays the net whole, from the bank", async () => {
    expect(done(await pay())).toMatchObject({ attempt: 1, amount: 6_798 });
    expect(await balance("bank")).toBe(-6_798);
    expect(await balance(`member/${hall.weaver.id}`)).toBe(0);
    await sound();
  });

  test("in cash comes out of the cash box and needs no reference", async () => {
    const before = await balance("cash-box");
    done(await pay({ method: "cash", reference: "" }));
    expect([await balance("bank"), await balance("cash-box")]).toEqual([0, before - 6_798]);
    await sound();
  });

  test("with the same key is recorded once and answers the same", async () => {
    const key = v7();
    const first = await pay({}, key);
    expect(await pay({}, key)).toEqual(first);
    expect(await base.db.payout.count()).toBe(1);
  });

  test("a second one is refused and told about the first", async () => {
    done(await pay());
    const second = await pay({ reference: "1002" });
    expect(second).toMatchObject({ ok: false, problem: { code: "already-done", status: 409 } });
    expect(second.ok ? "" : second.problem.detail).toMatch(/Dec 5, 2026 by cheque 1001/);
    expect(await base.db.payout.count()).toBe(1);
  });

  test("of ten at once, one is recorded", async () => {
    const all = await Promise.all(
      Array.from({ length: 10 }, (_, index) => pay({ reference: String(index) })),
    );
    expect(all.filter(({ ok }) => ok)).toHaveLength(1);
    expect(all.flatMap((one) => (one.ok ? [] : [one.problem.code]))).toEqual(
      Array(9).fill("already-done"),
    );
    expect(await balance("bank")).toBe(-6_798);
    await sound();
  });

  test.each([
    ["a cheque without a number", { reference: "" }, "reference"],
    ["a transfer without a reference", { method: "transfer" as const, reference: "" }, "reference"],
    ["a day before the sale", { paidOn: "2025-12-05" }, "paidOn"],
    ["a day far ahead", { paidOn: "2062-12-05" }, "paidOn"],
  ])("%s is refused by its field", async (_name, more, field) => {
    const result = await pay(more);
    expect(result).toMatchObject({ ok: false, problem: { status: 400, errors: [{ field }] } });
    expect(await base.db.payout.count()).toBe(0);
  });

  test("needs a known statement and the right stage", async () => {
    expect(await pay({ statementId: v7() })).toMatchObject({ problem: { code: "not-found" } });
    await moveTo(base.db, hall.sale, "selling");
    expect(await pay()).toMatchObject({ ok: false, problem: { code: "stage-closed" } });
    await moveTo(base.db, hall.sale, "closed");
    expect(await pay()).toMatchObject({ ok: true });
  });
});

describe("a void", () => {
  test("owes the member again, and the next payout is the second attempt", async () => {
    const { payoutId } = done(await pay());
    done(await takeBack(payoutId));
    expect([await balance("bank"), await balance(`member/${hall.weaver.id}`)]).toEqual([0, -6_798]);
    expect(done(await pay({ method: "transfer", reference: "T-9" }))).toMatchObject({ attempt: 2 });
    await sound();
  });

  test("puts cash back where it came from", async () => {
    const before = await balance("cash-box");
    const { payoutId } = done(await pay({ method: "cash", reference: "" }));
    done(await takeBack(payoutId));
    expect(await balance("cash-box")).toBe(before);
    await sound();
  });

  test("happens once: by key, one after the other, and ten at once", async () => {
    const { payoutId } = done(await pay());
    const key = v7();
    const first = await takeBack(payoutId, key);
    expect(await takeBack(payoutId, key)).toEqual(first);
    expect(await takeBack(payoutId)).toMatchObject({ problem: { code: "already-done" } });
    const second = done(await pay());
    const all = await Promise.all(Array.from({ length: 10 }, () => takeBack(second.payoutId)));
    expect(all.filter(({ ok }) => ok)).toHaveLength(1);
    expect(await base.db.payoutVoid.count()).toBe(2);
    await sound();
  });

  test("of an unknown payout is not found", async () => {
    expect(await takeBack(v7())).toMatchObject({ ok: false, problem: { code: "not-found" } });
  });
});

test("voids and payouts at once never pay twice", async () => {
  for (let round = 0; round < 10; round += 1) {
    const standing = await base.db.payout.findFirst({ where: { voided: null } });
    await Promise.all([
      pay({ reference: "a" }),
      ...(standing ? [takeBack(standing.id)] : []),
      pay({ reference: "b" }),
    ]);
    expect(await base.db.payout.count({ where: { voided: null } })).toBeLessThanOrEqual(1);
  }
  await sound();
});
