import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { recordFact } from "../../src/actions/record-fact.ts";
import type { ReceiptFact } from "../../src/contract/till-fact.ts";
import { flatTax } from "../../src/rules/tax/tax-rules.ts";
import { type BuiltPiece, buildHall, buildPieces, testTaxRate } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { expectSound } from "../support/sound.ts";
import { lineOf, saleFact } from "../support/till-facts.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
const sold: string[] = [];
const used = new Map<string, number>();
const hour = 3_600_000;
const fromNow = (milliseconds: number) => new Date(Date.now() + milliseconds).toISOString();

beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 16);
  for (const till of hall.tills)
    await base.db.tillDevice.create({
      data: { tillId: till.id, name: "Phone", tokenHash: till.id, enrolledById: hall.chair.id },
    });
});
afterAll(() => base.drop());
let first = 0;
/** A treasurer is told once for each opening of a drawer, so every test has two tills of its own. */
beforeEach(() => {
  first += 2;
});
const tillAt = (till: 0 | 1) => hall.tills[first - 2 + till]!;

const piece = async (): Promise<BuiltPiece> =>
  (await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 2_000 }]))[0]!;

/** A sale of one piece by a till whose clock shows `madeAt`; the figures are of one line. */
async function saleAt(
  till: 0 | 1,
  madeAt: string,
  { discount = 0, tax = 165, sells = piece() as BuiltPiece | Promise<BuiltPiece> } = {},
): Promise<ReceiptFact> {
  const seller = tillAt(till);
  used.set(seller.id, (used.get(seller.id) ?? 0) + 1);
  const line = lineOf(await sells);
  const plain = saleFact(hall, seller, used.get(seller.id)!, [line], { madeAt });
  const subtotal = line.amount - discount;
  return {
    ...plain,
    lines: [{ ...line, discount, amount: subtotal, tax }],
    taxes: tax === 0 ? [] : plain.taxes.map((one) => ({ ...one, base: subtotal, tax })),
    tenders: [{ kind: "cash", amount: subtotal + tax, reference: "" }],
    ...{ subtotal, tax, total: subtotal + tax, cashGiven: subtotal + tax },
  };
}

/** Every sale is recorded whatever the clock says; the answer is what the treasurer is told. */
async function send(till: 0 | 1, fact: ReceiptFact, clockAhead?: number): Promise<string[]> {
  const from = { db: base.db, tillId: tillAt(till).id, saleId: hall.sale.id, requestId: "test" };
  const answer = await recordFact({ ...from, clockAhead }, fact);
  expect(answer).toMatchObject({ ok: true, value: { recorded: "now" } });
  sold.push(fact.id);
  return answer.ok ? answer.value.notes : [];
}

test.each([
  ["three hours fast", 3 * hour],
  ["two days slow", -48 * hour],
  ["at the day on which clocks without a battery begin", -Date.now()],
])("a till whose clock is %s sells, and the treasurer is told once", async (_words, ahead) => {
  const facts = [];
  for (let count = 0; count < 3; count += 1) facts.push(await saleAt(0, fromNow(ahead + count)));
  const notes = [];
  for (const fact of facts) notes.push(await send(0, fact, ahead));
  expect(notes).toEqual([["clock-off"], [], []]);
  const [note] = await base.db.discrepancy.findMany({ where: { receiptId: facts[0]!.id } });
  expect(note!.detail).toMatchObject({ sent: facts[0]!.madeAt, ahead });
  const row = await base.db.receipt.findUniqueOrThrow({ where: { id: facts[0]!.id } });
  expect(row.madeAt.toISOString()).toBe(facts[0]!.madeAt);
  await expectSound(base.db, sold);
});

test("a clock that was set right before the sales went out is noticed by the receipts", async () => {
  expect(await send(0, await saleAt(0, fromNow(3 * hour)), 0)).toEqual(["clock-off"]);
  expect(await send(1, await saleAt(1, fromNow(-48 * hour)), 0)).toEqual(["clock-off"]);
  await expectSound(base.db, sold);
});

test("a minute off is nobody's business", async () => {
  expect(await send(0, await saleAt(0, fromNow(-60_000)), -60_000)).toEqual([]);
  expect(await send(0, await saleAt(0, fromNow(60_000)), 60_000)).toEqual([]);
});

test("what arrives first counts first, whatever the clocks of the tills say", async () => {
  const shared = await piece();
  const late = await saleAt(0, fromNow(3 * hour), { sells: shared });
  const early = await saleAt(1, fromNow(-48 * hour), { sells: shared });
  await send(0, late, 3 * hour);
  expect(await send(1, early, -48 * hour)).toEqual(["sold-twice", "clock-off"]);
  const lines = await base.db.receiptLine.findMany({ where: { itemId: shared.id } });
  expect(lines.find(({ suspended }) => !suspended)!.receiptId).toBe(late.id);
  await expectSound(base.db, sold);
});

test("in the night in which the clocks change, the day is the guild's", async () => {
  await base.db.tillSession.update({
    where: { id: tillAt(0).sessionId },
    data: { openedAt: new Date("2026-10-31T12:00:00Z") },
  });
  const [component] = flatTax(testTaxRate, "Sales tax").components;
  const free = { kind: "*", mode: "exempt" as const, from: "2026-11-01", to: "2026-11-01" };
  const taxRules = {
    ...flatTax(testTaxRate, "Sales tax"),
    components: [{ ...component!, rules: [free] }],
  };
  const { id } = hall.sale;
  await base.db.sale.update({ where: { id }, data: { taxRules: taxRules as object } });
  // In Chicago the day without tax has 25 hours: from 05:00 in summer time to 06:00 in winter time.
  const moments: [string, number][] = [
    ["2026-11-01T04:59:59.000Z", 165],
    ["2026-11-01T05:00:00.000Z", 0],
    ["2026-11-01T06:30:00.000Z", 0],
    ["2026-11-01T07:30:00.000Z", 0],
    ["2026-11-02T05:59:59.000Z", 0],
    ["2026-11-02T06:00:00.000Z", 165],
  ];
  for (const [moment, tax] of moments)
    expect(await send(0, await saleAt(0, moment, { tax }))).toEqual([]);
  expect(await send(0, await saleAt(0, moments[0]![0], { tax: 0 }))).toEqual(["figures-differ"]);
  const plain = flatTax(testTaxRate, "Sales tax") as object;
  await base.db.sale.update({ where: { id }, data: { taxRules: plain } });
  await expectSound(base.db, sold);
});

test("the markdown begins by the till's clock, and another moment of ours is told", async () => {
  const from = new Date(Date.now() + hour);
  const { id } = hall.sale;
  const terms = { markdownRate: 20_000, markdownFrom: from };
  await base.db.sale.update({ where: { id }, data: terms });
  const sells = await piece();
  await base.db.item.update({ where: { id: sells.id }, data: { markdown: true } });
  const fact = await saleAt(0, fromNow(3 * hour), { sells, discount: 400, tax: 132 });
  expect(await send(0, fact, 3 * hour)).toEqual(["clock-off", "clock-figures"]);
  const note = await base.db.discrepancy.findFirstOrThrow({
    where: { receiptId: fact.id, kind: "clock-figures" },
  });
  expect(note.detail).toMatchObject({ byTill: { total: 1_732 }, byUs: { total: 2_165 } });
  expect(await base.db.receipt.findUniqueOrThrow({ where: { id: fact.id } })).toMatchObject({
    total: 1_732n,
  });
  await base.db.sale.update({ where: { id }, data: { markdownRate: 0, markdownFrom: null } });
  await expectSound(base.db, sold);
});
