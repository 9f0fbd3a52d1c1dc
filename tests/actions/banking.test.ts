import { v7 } from "uuid";
import { afterAll, beforeEach, expect, test } from "vitest";
import { recordCardTotal } from "../../src/actions/record-card-total.ts";
import { recordDeposit } from "../../src/actions/record-deposit.ts";
import { voidCardTotal } from "../../src/actions/void-card-total.ts";
import { voidDeposit } from "../../src/actions/void-deposit.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { bankingOf } from "../../src/database/figures/banking.ts";
import { cardFeesOf } from "../../src/database/figures/card-fees.ts";
import { deedOf } from "../support/build.ts";
import { closeTill, done, sell } from "../support/build-settlement.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
beforeEach(async () => {
  await base?.drop();
  base = await freshDatabase();
  hall = await buildHall(base.db, 1, 10_000);
  const pieces = await buildPieces(base.db, hall.sale, hall.weaver, [
    { price: 4_500, quantity: 9 },
  ]);
  const paid = (kind: string) => ({ tenders: [{ kind, amount: 4_871 }] });
  await sell(base.db, hall, pieces);
  await sell(base.db, hall, pieces, paid("card"));
  await sell(base.db, hall, pieces, paid("cheque"));
});
afterAll(() => base.drop());

const today = () => new Date().toISOString().slice(0, 10);
const deed = (key?: string) => deedOf(base.db, hall.treasurer, key);
const bank = (more: object = {}, key?: string) =>
  recordDeposit(deed(key), {
    ...{ saleId: hall.sale.id, source: "cheques", amount: 4_871, reference: "" },
    bankedOn: "2026-11-27",
    ...more,
  });
const terminal = (more: object = {}, key?: string) =>
  recordCardTotal(deed(key), {
    ...{ saleId: hall.sale.id, tillId: null, day: "2026-11-27", gross: 4_871, fee: 141 },
    reference: "",
    ...more,
  });
const balance = async (accountKey: string) => {
  const sum = await base.db.posting.aggregate({ where: { accountKey }, _sum: { amount: true } });
  return Number(sum._sum.amount ?? 0n);
};
const sound = async () => expect(await checkBooks(base.db)).toMatchObject({ sound: true });

test("deposits move cash and cheques to the bank, card totals what is left of the fee", async () => {
  await closeTill(base.db, hall);
  done(await bank());
  done(await bank({ source: "cash-box", amount: 4_871, reference: "Bag 7" }));
  done(await terminal());
  expect([await balance("cheques"), await balance("cash-box")]).toEqual([0, 0]);
  expect([await balance("card-clearing"), await balance("card-fees")]).toEqual([0, 141]);
  expect(await balance("bank")).toBe(3 * 4_871 - 141);
  const { inHand } = await bankingOf(base.db, hall.sale.id, "America/Chicago");
  expect(inHand).toMatchObject([
    // The float came out of the box and went back into it with what was counted.
    { source: "cash-box", cameIn: 14_871, givenOut: 10_000, banked: 4_871, still: 0 },
    { source: "safe", cameIn: 0, givenOut: 0, banked: 0, still: 0 },
    { source: "cheques", cameIn: 4_871, givenOut: 0, banked: 4_871, still: 0 },
  ]);
  await sound();
});

test("a fee is not known before a total stands, and void totals do not count", async () => {
  expect(await cardFeesOf(base.db, hall.sale.id)).toBeNull();
  const { id } = done(await terminal());
  done(await terminal({ gross: 0, fee: 995, reference: "Rent of the terminal" }));
  expect(await cardFeesOf(base.db, hall.sale.id)).toBe(1_136);
  done(await voidCardTotal(deed(), { cardTotalId: id, reason: "Another sale's" }));
  expect(await cardFeesOf(base.db, hall.sale.id)).toBe(995);
  expect(await balance("card-clearing")).toBe(4_871);
  await sound();
});

test("a void gives everything back, once", async () => {
  const { id } = done(await bank());
  done(await voidDeposit(deed(), { depositId: id, reason: "Wrong sale" }));
  expect([await balance("bank"), await balance("cheques")]).toEqual([0, 4_871]);
  const again = await voidDeposit(deed(), { depositId: id, reason: "Wrong sale" });
  expect(again).toMatchObject({ ok: false, problem: { code: "already-done" } });
  const total = done(await terminal());
  const both = await Promise.all(
    [1, 2].map(() => voidCardTotal(deed(), { cardTotalId: total.id, reason: "Twice" })),
  );
  expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
  await sound();
});

test("the same key answers the same; the same deposit is not taken for two", async () => {
  const key = v7();
  const first = done(await bank({}, key));
  expect(done(await bank({}, key))).toEqual(first);
  expect(await bank({ amount: 1 }, key)).toMatchObject({ problem: { code: "key-reused" } });
  expect(await bank()).toMatchObject({ ok: false, problem: { code: "already-done" } });
  done(await bank({ reference: "Second slip" }));
  expect(await base.db.deposit.count()).toBe(2);
  done(await voidDeposit(deed(), { depositId: first.id, reason: "Typed in wrong" }));
  done(await bank());
});

test("of two at once one wins", async () => {
  const deposits = await Promise.all([bank(), bank(), bank()]);
  expect(deposits.filter(({ ok }) => ok)).toHaveLength(1);
  const totals = await Promise.all([terminal(), terminal({ gross: 5_000 })]);
  expect(totals.filter(({ ok }) => ok)).toHaveLength(1);
  expect([await base.db.deposit.count(), await base.db.cardTotal.count()]).toEqual([1, 1]);
  await sound();
});

test("what cannot be is refused at its field", async () => {
  const field = async (result: Promise<{ ok: boolean; problem?: object }>) => {
    const found = (await result) as { problem?: { errors: { field: string }[] } };
    return found.problem?.errors[0]?.field;
  };
  expect(await field(bank({ bankedOn: "2062-11-27" }))).toBe("bankedOn");
  expect(await field(bank({ bankedOn: "2016-11-27" }))).toBe("bankedOn");
  expect(await field(terminal({ day: "2016-11-27" }))).toBe("day");
  expect(await field(terminal({ fee: 5_000 }))).toBe("fee");
  expect(await field(terminal({ gross: 0, fee: 0 }))).toBe("gross");
  expect(await field(terminal({ tillId: v7() }))).toBe("tillId");
  expect(await bank({ saleId: v7() })).toMatchObject({ problem: { code: "not-found" } });
  const voided = await voidDeposit(deed(), { depositId: v7(), reason: "x" });
  expect(voided).toMatchObject({ problem: { code: "not-found" } });
  expect(await base.db.journalEntry.count({ where: { kind: { startsWith: "deposit" } } })).toBe(0);
});

test("the terminal is laid beside the tills, and a difference has its day and till", async () => {
  const find = async () => (await bankingOf(base.db, hall.sale.id, "America/Chicago")).cards;
  const day = today();
  const before = await find();
  expect(before.at(-1)).toMatchObject({ till: null, recorded: 4_871, terminal: null });
  done(await terminal({ day: before[0]!.day, tillId: hall.tills[0]!.id, gross: 4_900 }));
  expect(await find()).toMatchObject([
    { till: 1, recorded: 4_871, terminal: 4_900, difference: 29 },
    { till: null, recorded: 4_871, terminal: 4_900, difference: 29 },
  ]);
  expect(day >= before[0]!.day).toBe(true);
});

test("rows that are recorded cannot be changed", async () => {
  const { id } = done(await bank());
  done(await terminal());
  await expect(base.db.deposit.update({ where: { id }, data: { amount: 1n } })).rejects.toThrow();
  await expect(base.db.cardTotal.deleteMany()).rejects.toThrow();
  await expect(base.db.$executeRaw`TRUNCATE deposit_void`).rejects.toThrow();
});
