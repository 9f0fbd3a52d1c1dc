import { afterAll, beforeAll, expect, test } from "vitest";
import { recordCardTotal } from "../../src/actions/record-card-total.ts";
import { recordPayout } from "../../src/actions/record-payout.ts";
import { voidPayout } from "../../src/actions/void-payout.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { flagged } from "../../src/database/figures/flagged.ts";
import { incomeStatement } from "../../src/database/figures/income-statement.ts";
import { payablesOf } from "../../src/database/figures/payables.ts";
import { memberYears, yearSpan, yearSums } from "../../src/database/figures/year-totals.ts";
import { agePayables, usualLimits } from "../../src/rules/paying/unclaimed.ts";
import { firstPolicy } from "../../src/rules/policy/policy.ts";
import { deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { buildSettling, done, giveBack, sell, settleNow } from "../support/build-settlement.ts";
import { buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

const zone = "America/Chicago";
let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildSettling>>;

/**
 * A policy with fees and a least payout: the second weaver's small sum is held. What is returned
 * afterwards leaves the first one owing, and new goods wait for the next settlement.
 */
beforeAll(async () => {
  base = await freshDatabase();
  const { db } = base;
  hall = await buildSettling(db);
  const policy = {
    ...firstPolicy(20_000),
    fees: { ...firstPolicy(0).fees, entry: 100 },
    payout: { ...firstPolicy(0).payout, minimum: 4_000 },
  };
  await db.salePolicy.create({
    data: { saleId: hall.sale.id, version: 2, policy: policy as object, byId: hall.chair.id },
  });
  await settleNow(db, hall);
  const deed = deedOf(db, hall.treasurer);
  const first = await db.statement.findFirstOrThrow({ where: { memberId: hall.weaver.id } });
  const payment = { statementId: first.id, method: "cheque", paidOn: "2026-12-05" } as const;
  const wrong = done(await recordPayout(deed, { ...payment, reference: "1001" }));
  done(await voidPayout(deed, { payoutId: wrong.payoutId, reason: "Lost in the post" }));
  done(await recordPayout(deed, { ...payment, reference: "1002" }));
  await giveBack(db, hall, hall.receipts.first);
  await settleNow(db, hall);
  await moveTo(db, hall.sale, "selling");
  await sell(db, hall, await buildPieces(db, hall.sale, hall.other, [{ price: 777 }]));
});
afterAll(() => base.drop());

/** A statement's figures as they stand in its row. */
const statements = async () =>
  (await base.db.statement.findMany({ orderBy: { number: "asc" } })).map((row) => ({
    memberId: row.memberId,
    net: Number(row.net),
    due: Number(row.due),
    guildShare: Number(row.guildShare),
    fees: Number(row.fees) + Number(row.cardFee),
  }));
const total = (amounts: readonly number[]) => amounts.reduce((sum, one) => sum + one, 0);

test("what is held waits for its member, and what is owed to the guild stands apart", async () => {
  const found = await payablesOf(base.db);
  expect(found).toMatchObject({ agrees: true, notSettled: 777 });
  const rows = await statements();
  const left = (memberId: string) =>
    total(rows.filter((row) => row.memberId === memberId).map(({ net, due }) => net - due));
  expect(left(hall.other.id)).toBeGreaterThan(0);
  expect(left(hall.weaver.id)).toBeLessThan(0);
  expect(found.payables).toMatchObject([
    { kind: "held", memberNumber: hall.other.number, amount: left(hall.other.id) },
  ]);
  expect(found.owing).toMatchObject([
    { memberNumber: hall.weaver.number, amount: -left(hall.weaver.id) },
  ]);
});

test("a held sum is as old as the first statement that held it", async () => {
  const found = await payablesOf(base.db);
  const first = await base.db.statement.findFirstOrThrow({
    where: { memberId: hall.other.id },
    orderBy: { number: "asc" },
    include: { settlement: true },
  });
  expect(found.payables[0]?.owedSince).toBe(first.settlement.at.toISOString());
  const later = new Date(first.settlement.at.getTime() + 100 * 86_400_000).toISOString();
  const ages = agePayables(found.payables, later, zone);
  expect(ages.map(({ total: sum }) => sum).slice(0, usualLimits.length)).toEqual([0, 0, 0]);
  expect(ages.at(-1)?.total).toBe(found.payables[0]?.amount);
});

test("the year is the statements' and payouts' own figures, and moves the accounts by as much", async () => {
  const span = yearSpan(new Date().getFullYear(), zone);
  const { items, next } = await memberYears(base.db, span, {});
  expect(next).toBeNull();
  const rows = await statements();
  for (const member of items) {
    const mine = rows.filter(({ memberId }) => memberId === member.memberId);
    expect(member.guildShare).toBe(total(mine.map(({ guildShare }) => guildShare)));
    expect(member.fees).toBe(total(mine.map(({ fees }) => fees)));
  }
  const weaver = items.find(({ memberId }) => memberId === hall.weaver.id);
  // 45.00 came back, two towels at 19.99 stayed sold; the void cheque counts for nothing.
  expect(weaver).toMatchObject({ sold: 3_998, fees: expect.any(Number) });
  const paid = rows.find(({ memberId, due }) => memberId === hall.weaver.id && due > 0);
  expect(weaver?.paid).toBe(paid?.due);
  expect(items.find(({ memberId }) => memberId === hall.other.id)?.sold).toBe(3_333 + 777);
  const sums = await yearSums(base.db, span);
  expect(sums).toMatchObject({ agrees: true, sold: total(items.map(({ sold }) => sold)) });
  expect(sums.paid).toBe(total(items.map((one) => one.paid)));
});

test("the list of a year is searched and paged, and other years are empty", async () => {
  const span = yearSpan(new Date().getFullYear(), zone);
  const one = await memberYears(base.db, span, { limit: 1 });
  expect([one.items.length, one.next]).toEqual([1, String(one.items[0]?.number)]);
  const rest = await memberYears(base.db, span, { after: Number(one.next), limit: 1 });
  expect(rest.items[0]?.number).toBeGreaterThan(one.items[0]!.number);
  expect((await memberYears(base.db, span, { q: String(hall.other.number) })).items).toHaveLength(
    1,
  );
  expect((await memberYears(base.db, span, { q: "%" })).items).toEqual([]);
  expect((await memberYears(base.db, yearSpan(2001, zone), {})).items).toEqual([]);
  expect(await yearSums(base.db, yearSpan(2001, zone))).toMatchObject({ sold: 0, agrees: true });
});

test("at the threshold or over it is the guild's choice", async () => {
  const span = yearSpan(new Date().getFullYear(), zone);
  const { items } = await memberYears(base.db, span, {});
  const year = new Date().getFullYear();
  const flags = (amount: number, from: "at" | "over") =>
    flagged(items, year, zone, { amount, counts: "sold", from }).map(({ toReport }) => toReport);
  const most = Math.max(...items.map(({ sold }) => sold));
  expect(flags(most, "at").filter(Boolean)).toHaveLength(1);
  expect(flags(most, "over")).not.toContain(true);
  expect(flagged(items, year, zone, null).some(({ toReport }) => toReport)).toBe(false);
});

test("a year begins and ends by the guild's clocks", () => {
  const { from, to } = yearSpan(2026, zone);
  expect([from.toISOString(), to.toISOString()]).toEqual([
    "2026-01-01T06:00:00.000Z",
    "2027-01-01T06:00:00.000Z",
  ]);
});

test("what the guild made is its share, fees and gifts, less its costs", async () => {
  const total = { saleId: hall.sale.id, tillId: null, day: "2026-11-27", gross: 0, fee: 250 };
  done(await recordCardTotal(deedOf(base.db, hall.treasurer), { ...total, reference: "Rent" }));
  const found = await incomeStatement(base.db, hall.sale.id);
  const rows = await statements();
  const of = (account: string) =>
    [...found.income, ...found.expenses].find((line) => line.account === account)?.amount ?? 0;
  expect(of("guild-share")).toBe(rows.reduce((sum, { guildShare }) => sum + guildShare, 0));
  expect(of("fees")).toBe(rows.reduce((sum, { fees }) => sum + fees, 0));
  expect([of("donations"), of("card-fees")]).toEqual([1_235, -250]);
  expect(found.result).toBe(of("guild-share") + of("fees") + 1_235 - 250);
  expect(found.agrees).toBe(true);
  expect(
    [...found.income, ...found.expenses].some(({ account }) =>
      /^(member|tax|drawer)/.test(account),
    ),
  ).toBe(false);
  expect(await checkBooks(base.db)).toMatchObject({ sound: true });
});
