import { v7 } from "uuid";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { finaliseSettlement } from "../../src/actions/finalise-settlement.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { previewSettlement } from "../../src/database/settlement-preview.ts";
import { gatherStatements } from "../../src/database/statements.ts";
import { deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { buildSettling, closeTills, giveBack, settleNow } from "../support/build-settlement.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildSettling>>;
beforeEach(async () => {
  base = await freshDatabase();
  hall = await buildSettling(base.db);
});
afterEach(async () => {
  const books = await checkBooks(base.db);
  expect(books.checks.filter(({ broken }) => broken)).toEqual([]);
  expect(books.unaccounted).toEqual({ pieces: 0, money: 0 });
  await base.drop();
});

/** No sale is settled before its tills are cashed up. */
const settle = async (fingerprint: string, key?: string) => {
  await closeTills(base.db, hall);
  return finaliseSettlement(deedOf(base.db, hall.treasurer, key), {
    saleId: hall.sale.id,
    fingerprint,
  });
};

const fingerprintNow = async () => (await previewSettlement(base.db, hall.sale.id)).fingerprint;

describe("finalising", () => {
  test("freezes lines, shares and unsold pieces of every member", async () => {
    // 20 % half up of each line: 45.00 gives 9.00, 39.98 gives 8.00 (7.996), 33.33 gives 6.67 (6.666).
    const done = await settleNow(base.db, hall);
    expect(done).toMatchObject({ number: 1, statements: 2, gross: 11_831, guildShare: 2_367 });
    const [mine, theirs] = await gatherStatements(base.db, { settlementId: done.settlementId });
    expect(mine).toMatchObject({ number: 1, gross: 8_498, guildShare: 1_700, net: 6_798 });
    expect(mine?.lines.map(({ amount, guildShare, net }) => [amount, guildShare, net])).toEqual([
      [4_500, 900, 3_600],
      [3_998, 800, 3_198],
      [1_235, 1_235, 0],
    ]);
    expect(mine?.unsold).toMatchObject([{ quantity: 1, price: 1_999 }]);
    expect(mine?.heading.notes.join(" ")).toContain("$12.35");
    expect(theirs).toMatchObject({ number: 2, gross: 3_333, guildShare: 667, net: 2_666 });
    expect(theirs?.unsold).toMatchObject([{ quantity: 1, price: 2_000 }]);
    expect(theirs?.heading).toMatchObject({ memberNumber: hall.other.number, currency: "USD" });
  });

  test("the same key twice is one settlement with one answer", async () => {
    const fingerprint = await fingerprintNow();
    const key = v7();
    const [first, second] = [await settle(fingerprint, key), await settle(fingerprint, key)];
    expect(second).toEqual(first);
    expect(await base.db.settlement.count()).toBe(1);
  });

  test("a second person is told who settled and when", async () => {
    const fingerprint = await fingerprintNow();
    await settleNow(base.db, hall);
    const again = await settle(fingerprint);
    expect(again).toMatchObject({ ok: false, problem: { code: "already-done", status: 409 } });
    const detail = again.ok ? "" : again.problem.detail;
    expect(detail).toContain(hall.treasurer.name);
    expect(detail).toMatch(/on \w+ \d+, \d{4}/);
    expect(await base.db.statement.count()).toBe(2);
  });

  test("other figures than those looked at are refused and nothing is kept", async () => {
    const fingerprint = await fingerprintNow();
    await giveBack(base.db, hall, hall.receipts.first);
    const late = await settle(fingerprint);
    expect(late).toMatchObject({ ok: false, problem: { code: "changed-meanwhile" } });
    expect(await base.db.settlement.count()).toBe(0);
  });

  test.each(["entries-open", "selling", "closed"])("is refused at the stage %s", async (stage) => {
    const fingerprint = await fingerprintNow();
    await moveTo(base.db, hall.sale, stage);
    expect(await settle(fingerprint)).toMatchObject({
      ok: false,
      problem: { code: "stage-closed", status: 409 },
    });
    expect(await base.db.settlement.count()).toBe(0);
  });

  test("is refused while a till is open, and says which", async () => {
    const given = { saleId: hall.sale.id, fingerprint: await fingerprintNow() };
    const refused = await finaliseSettlement(deedOf(base.db, hall.treasurer), given);
    expect(refused).toMatchObject({ ok: false, problem: { code: "still-open", status: 409 } });
    expect(!refused.ok && refused.problem.detail).toContain("Till 1 is open");
    expect(await base.db.settlement.count()).toBe(0);
  });

  test("an unknown sale is not found", async () => {
    const given = { saleId: v7(), fingerprint: "0".repeat(64) };
    const result = await finaliseSettlement(deedOf(base.db, hall.treasurer), given);
    expect(result).toMatchObject({ ok: false, problem: { code: "not-found" } });
  });
});

describe("what comes after", () => {
  test("a return makes a supplementary settlement that takes back the exact share", async () => {
    await settleNow(base.db, hall);
    await giveBack(base.db, hall, hall.receipts.stack, 1);
    const second = await settleNow(base.db, hall);
    await giveBack(base.db, hall, hall.receipts.stack, 1);
    const third = await settleNow(base.db, hall);
    // The share of 8.00 on two towels goes back in two halves, whatever was settled in between.
    expect(second).toMatchObject({ number: 2, statements: 1, gross: -1_999, guildShare: -400 });
    expect(third).toMatchObject({ number: 3, statements: 1, gross: -1_999, guildShare: -400 });
    const [last] = await gatherStatements(base.db, { settlementId: third.settlementId });
    expect(last).toMatchObject({ number: 4, net: -1_599 });
    expect(last?.heading.notes.join(" ")).toContain("owed to the guild");
  });

  test("the first settlement reads the same afterwards", async () => {
    const { settlementId } = await settleNow(base.db, hall);
    const before = await gatherStatements(base.db, { settlementId });
    await giveBack(base.db, hall, hall.receipts.first);
    await base.db.guild.update({ where: { id: 1 }, data: { name: "New name", locale: "de-DE" } });
    await base.db.member.update({ where: { id: hall.weaver.id }, data: { name: "New name" } });
    await settleNow(base.db, hall);
    expect(await gatherStatements(base.db, { settlementId })).toEqual(before);
  });

  test("a sale and its return before the settlement leave nothing", async () => {
    await giveBack(base.db, hall, hall.receipts.first);
    const done = await settleNow(base.db, hall);
    const [mine] = await gatherStatements(base.db, { settlementId: done.settlementId });
    expect(mine).toMatchObject({ gross: 3_998, guildShare: 800 });
    expect(mine?.lines).toHaveLength(4);
  });
});
