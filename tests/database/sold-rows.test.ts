import { afterAll, beforeAll, expect, test } from "vitest";
import { noteElsewhere, takeBackElsewhere } from "../../src/actions/bench/keep-elsewhere.ts";
import { noteMaking } from "../../src/actions/bench/note-making.ts";
import { openTill } from "../../src/actions/open-till.ts";
import { voidReceipt } from "../../src/actions/void-receipt.ts";
import { elsewhereShape } from "../../src/contract/elsewhere.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { resultsOf } from "../../src/database/results.ts";
import { previewSettlement } from "../../src/database/settlement-preview.ts";
import { soldRowsOf } from "../../src/database/sold/sold-rows.ts";
import { figuresOf } from "../../src/rules/sold/figures.ts";
import { groupsOf } from "../../src/rules/sold/groups.ts";
import { buildSale, deedOf } from "../support/build.ts";
import { buildSettling, done, giveBack, sell, settleNow } from "../support/build-settlement.ts";
import { type BuiltPiece, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let spring: { id: string };

/**
 * One sale settled, of which a towel came back afterwards; a second one under way, where a piece
 * was called off and one sold two hours and ten minutes after the opening.
 */
beforeAll(async () => {
  base = await freshDatabase();
  const { db } = base;
  hall = await buildSettling(db);
  await settleNow(db, hall);
  await giveBack(db, hall, hall.receipts.stack);
  const first = new Date("2027-04-24T00:00:00Z");
  const lastDay = new Date("2027-04-25T00:00:00Z");
  spring = await buildSale(db, { name: "Spring sale", stage: "selling", firstDay: first, lastDay });
  const till = await db.till.create({ data: { saleId: spring.id, number: 1, name: "One" } });
  const opened = done(await openTill(deedOf(db, hall.cashier), { tillId: till.id, float: 0 }));
  const two = { ...hall, sale: { ...hall.sale, ...spring }, tills: [{ ...till, ...opened }] };
  const pieces = await buildPieces(db, spring, hall.weaver, [{ price: 6_000 }, { price: 2_000 }]);
  const [shawl, bag] = pieces as [BuiltPiece, BuiltPiece];
  await db.stageChange.create({
    data: {
      ...{ saleId: spring.id, fromStage: "entries-closed", toStage: "selling" },
      ...{ byId: hall.chair.id, at: new Date(Date.now() + 60_000) },
    },
  });
  await sell(db, two as typeof hall, [shawl]);
  const wrong = await sell(db, two as typeof hall, [bag]);
  const called = { receiptId: wrong, reason: "Rung up twice" };
  done(await voidReceipt(deedOf(db, hall.cashier), called));
});
afterAll(() => base.drop());

const of = async (where: string) => {
  const rows = await soldRowsOf(base.db, hall.weaver.id);
  return figuresOf(rows.filter((row) => row.where === where));
};

const note = (more: object = {}) =>
  elsewhereShape.parse({
    ...{ day: "2026-08-01", outlet: "Corner shop", kind: "towel", description: "Plain towel" },
    ...{ quantity: 3, price: 2_000, keptRate: 33_333, ...more },
  });

test("a settled sale has its statement's figures, and what came back later waits to be settled", async () => {
  const figures = await of(`sale:${hall.sale.id}`);
  // 45.00 and one towel of the two at 19.99; the gift of 12.35 stands apart. 20 % of 84.98 is kept.
  expect(figures).toMatchObject({
    ...{ entered: 5, sold: 3, given: 1, givenAmount: 1_235, takings: 6_499 },
    ...{ kept: 1_700, left: 6_798, open: -1_999, averagePrice: 3_250 },
  });
  const [statement] = await base.db.statement.findMany({ where: { memberId: hall.weaver.id } });
  expect([figures.kept, figures.left]).toEqual([
    Number(statement!.guildShare),
    Number(statement!.net),
  ]);
});

test("what was called off is no sale, and its piece stays unsold", async () => {
  const figures = await of(`sale:${spring.id}`);
  expect(figures).toMatchObject({ entered: 2, sold: 1, takings: 6_000, open: 6_000, kept: 0 });
  const rows = await soldRowsOf(base.db, hall.weaver.id);
  const called = rows.filter((row) => row.price === 2_000);
  expect(called.map(({ sold, entered, amount }) => [sold, entered, amount])).toEqual([
    [0, 0, 0],
    [0, 1, 0],
  ]);
});

test("every sale ties to My sales: pieces, what sold and what they sold for", async () => {
  const results = await resultsOf(base.db, hall.weaver.id);
  expect(results).toHaveLength(2);
  for (const { saleId, entered, sold, gross } of results)
    expect(await of(`sale:${saleId}`)).toMatchObject({ entered, sold, takings: gross });
});

test("the wait runs from the opening, or from coming to the desk where that was later", async () => {
  const { db } = base;
  const wait = async () =>
    (await soldRowsOf(db, hall.weaver.id)).find((row) => row.price === 6_000)?.wait;
  // The till's moment comes before the opening here, which no wait below zero may come of.
  expect(await wait()).toBe(0);
  const moved = (where: object, at: Date) => asOwner(where, at);
  const receipt = await db.receipt.findFirstOrThrow({ where: { saleId: spring.id, kind: "sale" } });
  const before = (minutes: number) => new Date(receipt.madeAt.getTime() - minutes * 60_000);
  await moved({ stage: spring.id }, before(130));
  await moved({ movement: spring.id }, before(500));
  expect(await wait()).toBe(130);
  await moved({ movement: spring.id }, before(40));
  expect(await wait()).toBe(40);
});

/** Rows of a ledger never change; only the owner of the tables can move their clocks, as a demo does. */
async function asOwner(where: { stage?: string; movement?: string }, at: Date) {
  const { db } = base;
  if (where.stage)
    await db.$transaction([
      db.$executeRaw`ALTER TABLE stage_change DISABLE TRIGGER keep_rows`,
      db.$executeRaw`UPDATE stage_change SET at = ${at} WHERE sale_id = ${where.stage}::uuid`,
      db.$executeRaw`ALTER TABLE stage_change ENABLE TRIGGER keep_rows`,
    ]);
  if (where.movement)
    await db.$transaction([
      db.$executeRaw`ALTER TABLE movement DISABLE TRIGGER keep_rows`,
      db.$executeRaw`UPDATE movement SET at = ${at} WHERE kind = 'checked-in'
        AND item_id IN (SELECT id FROM item WHERE sale_id = ${where.movement}::uuid)`,
      db.$executeRaw`ALTER TABLE movement ENABLE TRIGGER keep_rows`,
    ]);
}

test("sales elsewhere complete the picture and leave every book as it was", async () => {
  const { db } = base;
  const books = async () => ({
    ...{ entries: await db.journalEntry.count(), postings: await db.posting.count() },
    counts: await db.itemCount.findMany({ orderBy: { itemId: "asc" } }),
    results: await resultsOf(db, hall.weaver.id),
    preview: (await previewSettlement(db, spring.id)).fingerprint,
    settled: await db.statement.findMany({ orderBy: { number: "asc" } }),
  });
  const before = await books();
  const deed = deedOf(db, hall.weaver);
  const kept = done(await noteElsewhere(deed, note()));
  const slip = done(await noteElsewhere(deed, note({ outlet: "CORNER SHOP", quantity: 9 })));
  const atShop = await of("outlet:Corner shop");
  // 12 at 20.00, a third kept: each note is rounded for itself.
  expect(atShop).toMatchObject({
    ...{ entered: 0, sold: 12, soldElsewhere: 12, takings: 24_000 },
    ...{ kept: 2_000 + 6_000, left: 16_000, open: 0 },
  });
  done(await takeBackElsewhere(deed, slip));
  expect(await of("outlet:Corner shop")).toMatchObject({ sold: 3, takings: 6_000 });
  expect(await books()).toEqual(before);
  expect(await checkBooks(db)).toMatchObject({ sound: true });
  expect(await soldRowsOf(db, hall.other.id)).not.toContainEqual(
    expect.objectContaining({ key: kept.id }),
  );
});

test("one member's figures hold nothing of another's, and theirs nothing of hers", async () => {
  const { db } = base;
  const ids = async (memberId: string) =>
    (await soldRowsOf(db, memberId)).flatMap(({ itemId }) => itemId ?? []);
  const owners = async (found: string[]) =>
    new Set((await db.item.findMany({ where: { id: { in: found } } })).map((one) => one.memberId));
  expect(await owners(await ids(hall.weaver.id))).toEqual(new Set([hall.weaver.id]));
  expect(await owners(await ids(hall.other.id))).toEqual(new Set([hall.other.id]));
});

test("hours noted long after a sale give its pay; nobody else can note or read them", async () => {
  const { db } = base;
  const item = await db.item.findFirstOrThrow({
    where: { memberId: hall.weaver.id, price: 4_500 },
  });
  const input = { minutes: 120, materials: 600 };
  const refused = await noteMaking(deedOf(db, hall.chair), item.id, input);
  expect(refused).toMatchObject({ ok: false, problem: { status: 404 } });
  done(await noteMaking(deedOf(db, hall.weaver), item.id, input));
  const { pay } = await of(`sale:${hall.sale.id}`);
  // 36.00 left of 45.00, less 6.00 of yarn, for two hours.
  expect(pay).toMatchObject({ perHour: 1_500, pieces: 1, withoutMaterials: 0 });
  const audit = await db.audit.findFirstOrThrow({ where: { deed: "note-making" } });
  expect(audit.detail).toEqual({});
});

test("fibres come from percentages or from yarns, colours from words", async () => {
  const { db } = base;
  const own = await db.item.findMany({ where: { memberId: hall.weaver.id, saleId: hall.sale.id } });
  const yarn = (fibre: string, grams: number) => ({
    ...{ place: "weft", amount: { unit: "g", thousandths: grams * 1_000 }, number: null },
    blend: [{ fibre, percent: 100 }],
  });
  await db.item.update({
    where: { id: own[0]!.id },
    data: {
      ...{ colours: "Navy and cream", fibres: [] },
      labelDetails: { yarns: [yarn("cotton", 90), yarn("linen", 60), yarn("linen", 60)] },
    },
  });
  const rows = await soldRowsOf(db, hall.weaver.id);
  expect(rows.find(({ itemId }) => itemId === own[0]!.id)).toMatchObject({
    ...{ fibre: "linen", colour: "blue" },
  });
  expect(groupsOf(rows, "fibre", String).map(({ label }) => label)).toEqual(
    expect.arrayContaining(["Linen", "Wool", "Not said"]),
  );
});
