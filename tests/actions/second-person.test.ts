import { afterEach, beforeEach, expect, test } from "vitest";
import { finaliseSettlement } from "../../src/actions/finalise-settlement.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { previewSettlement } from "../../src/database/settlement-preview.ts";
import { buildMember, deedOf } from "../support/build.ts";
import {
  buildSettling,
  closeTill,
  done,
  giveBack,
  reopenTill,
  settleNow,
} from "../support/build-settlement.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildSettling>>;
beforeEach(async () => {
  base = await freshDatabase();
  hall = await buildSettling(base.db);
  await closeTill(base.db, hall);
  await askAbove(5_000n);
});
afterEach(async () => {
  const books = await checkBooks(base.db);
  expect(books.checks.filter(({ broken }) => broken)).toEqual([]);
  await base.drop();
});

const askAbove = (secondPersonAbove: bigint | null) =>
  base.db.guild.update({ where: { id: 1 }, data: { secondPersonAbove } });
const shown = async () => (await previewSettlement(base.db, hall.sale.id)).fingerprint;
const settle = (who: typeof hall.chair, fingerprint: string) =>
  finaliseSettlement(deedOf(base.db, who), { saleId: hall.sale.id, fingerprint });
const settlements = () => base.db.settlement.findMany({ orderBy: { number: "asc" } });

test("above the limit one proposes, the same person still only proposes, another settles", async () => {
  const fingerprint = await shown();
  // 118.31 less the guild's 23.67.
  const proposed = done(await settle(hall.treasurer, fingerprint));
  expect(proposed).toEqual({
    ...{ state: "proposed", gross: 11_831, guildShare: 2_367, net: 9_464, due: 9_464 },
  });
  expect(done(await settle(hall.treasurer, fingerprint))).toMatchObject({ state: "proposed" });
  expect(await settlements()).toEqual([]);
  expect(await base.db.settlementProposal.count()).toBe(1);
  const settled = done(await settle(hall.chair, fingerprint));
  expect(settled).toMatchObject({ state: "settled", number: 1, net: 9_464 });
  expect(await settlements()).toMatchObject([
    { byId: hall.treasurer.id, approvedById: hall.chair.id },
  ]);
  const audited = await base.db.audit.findMany({ where: { deed: "finalise-settlement" } });
  expect(audited.map(({ byId }) => byId).sort()).toEqual(
    [hall.treasurer.id, hall.treasurer.id, hall.chair.id].sort(),
  );
});

test.each([
  ["no limit", null],
  ["exactly the limit", 9_464n],
])("with %s one person settles", async (_, limit) => {
  await askAbove(limit);
  await settleNow(base.db, hall);
  expect(await settlements()).toMatchObject([{ byId: hall.treasurer.id, approvedById: null }]);
});

test("figures that changed meanwhile have to be proposed anew", async () => {
  const old = await shown();
  done(await settle(hall.treasurer, old));
  await reopenTill(base.db, hall);
  await giveBack(base.db, hall, hall.receipts.stack, 1);
  await closeTill(base.db, hall);
  expect(await settle(hall.chair, old)).toMatchObject({
    ok: false,
    problem: { code: "changed-meanwhile" },
  });
  const now = await shown();
  expect(done(await settle(hall.chair, now))).toMatchObject({ state: "proposed" });
  expect(done(await settle(hall.chair, now))).toMatchObject({ state: "proposed" });
  expect(done(await settle(hall.treasurer, now))).toMatchObject({ state: "settled" });
  expect(await settlements()).toMatchObject([
    { byId: hall.chair.id, approvedById: hall.treasurer.id },
  ]);
});

test("two at once: both of them together settle, exactly once", async () => {
  const fingerprint = await shown();
  const both = await Promise.all(
    [hall.treasurer, hall.chair].map((who) => settle(who, fingerprint)),
  );
  expect(both.map((one) => done(one).state).sort()).toEqual(["proposed", "settled"]);
  expect(await settlements()).toHaveLength(1);
});

test("two who agree at once to what a third proposed: one wins, the other is told", async () => {
  const fingerprint = await shown();
  const second = await buildMember(base.db, ["treasurer"]);
  done(await settle(hall.treasurer, fingerprint));
  const both = await Promise.all([hall.chair, second].map((who) => settle(who, fingerprint)));
  expect(both.map((one) => (one.ok ? one.value.state : one.problem.code)).sort()).toEqual([
    ...["already-done", "settled"],
  ]);
  expect(await settlements()).toHaveLength(1);
});
