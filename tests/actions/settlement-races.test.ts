import { Decimal } from "decimal.js";
import { afterAll, beforeAll, expect, test } from "vitest";
import { finaliseSettlement } from "../../src/actions/finalise-settlement.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { previewSettlement } from "../../src/database/settlement-preview.ts";
import { gatherStatements } from "../../src/database/statements.ts";
import { deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import {
  buildSettling,
  closeTill,
  giveBack,
  reopenTill,
  sell,
  settleNow,
} from "../support/build-settlement.ts";
import { buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildSettling>>;
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildSettling(base.db);
});
afterAll(() => base.drop());

// Six deeds a round, with the cash-up, take their time on a machine that does other things too.
test("a hundred rounds of two who settle at once: one wins, the other is told", async () => {
  const { db } = base;
  const pieces = await buildPieces(
    db,
    hall.sale,
    hall.weaver,
    Array.from({ length: 100 }, (_, index) => ({ price: 100 + 37 * index })),
  );
  for (const piece of pieces) {
    await moveTo(db, hall.sale, "selling");
    await sell(db, hall, [piece]);
    await moveTo(db, hall.sale, "settling");
    await closeTill(db, hall);
    const { fingerprint } = await previewSettlement(db, hall.sale.id);
    const input = { saleId: hall.sale.id, fingerprint };
    const both = await Promise.all(
      [hall.treasurer, hall.chair].map((who) => finaliseSettlement(deedOf(db, who), input)),
    );
    expect(both.map((one) => (one.ok ? "won" : one.problem.code)).sort()).toEqual([
      "already-done",
      "won",
    ]);
    await reopenTill(db, hall);
  }
  expect(await db.settlement.count()).toBe(100);
  const numbers = await db.statement.findMany({ orderBy: { number: "asc" } });
  expect(numbers.map(({ number }) => number)).toEqual(numbers.map((_, index) => index + 1));
  expect(await checkBooks(db)).toMatchObject({ sound: true });
}, 240_000);

test("a return during the settlement is in it or after it, never lost", async () => {
  const { db } = base;
  await moveTo(db, hall.sale, "selling");
  const pieces = await buildPieces(db, hall.sale, hall.weaver, [{ price: 903, quantity: 9 }]);
  const receipt = await sell(db, hall, [{ piece: pieces[0]!, quantity: 9 }]);
  await moveTo(db, hall.sale, "settling");
  for (let round = 0; round < 9; round += 1) {
    // The return may find the till cashed up for the settlement: then it comes after it.
    const [, back] = await Promise.all([
      settleNow(db, hall).catch(() => undefined),
      giveBack(db, hall, receipt, 1).catch(() => undefined),
    ]);
    for (const till of hall.tills) await reopenTill(db, hall, till).catch(() => undefined);
    if (!back) await giveBack(db, hall, receipt, 1);
  }
  await settleNow(db, hall).catch(() => undefined);
  const [sums] = await db.$queryRaw<{ share: bigint; lines: bigint }[]>`
    SELECT sum(t.guild_share)::bigint AS share, count(*) AS lines FROM statement_line t
    WHERE t.receipt_line_id IN (SELECT id FROM receipt_line WHERE item_id = ${pieces[0]!.id}::uuid)`;
  // Nine pieces out and nine back, each settled once: nothing stays with the guild.
  expect([Number(sums?.share), Number(sums?.lines)]).toEqual([0, 10]);
  expect(await checkBooks(db)).toMatchObject({ sound: true });
});

// decimal.js works the same settlement out on its own, in units instead of coins.
test("an independent decimal library comes to the same coin", async () => {
  const lines = await base.db.receiptLine.findMany({
    where: { receipt: { saleId: hall.sale.id } },
    include: { reversedBy: true },
  });
  const rate = new Decimal("0.20");
  const shareOf = (amount: Decimal) => amount.times(rate).toDecimalPlaces(2, Decimal.ROUND_HALF_UP);
  const units = (coins: bigint | number) => new Decimal(coins.toString()).dividedBy(100);
  let [gross, share] = [new Decimal(0), new Decimal(0)];
  for (const line of lines.filter(({ donated, quantity }) => !donated && quantity > 0)) {
    const back = line.reversedBy.reduce((sum, { quantity }) => sum - quantity, 0);
    const kept = new Decimal(line.quantity - back).dividedBy(line.quantity);
    gross = gross.plus(units(line.amount).times(kept));
    // What stays of a stack keeps its part of the share that the whole stack gave.
    const whole = shareOf(units(line.amount));
    const given = whole.times(new Decimal(back).dividedBy(line.quantity));
    share = share.plus(whole.minus(given.toDecimalPlaces(2, Decimal.ROUND_HALF_UP)));
  }
  const settlements = await base.db.settlement.findMany();
  const statements = await gatherStatements(base.db, {});
  const ours = (figure: "gross" | "guildShare") => [
    settlements.reduce((sum, row) => sum + Number(row[figure]), 0),
    statements.reduce((sum, row) => sum + row[figure], 0),
  ];
  const theirs = (figure: Decimal) => Array(2).fill(figure.times(100).toNumber());
  expect(lines.length).toBeGreaterThan(110);
  expect([ours("gross"), ours("guildShare")]).toEqual([theirs(gross), theirs(share)]);
});
