import { afterAll, beforeAll, expect, test } from "vitest";
import type { ReceiptFact } from "../../src/contract/till-fact.ts";
import { startApp, type TestApp } from "../support/app.ts";
import { buildHall, buildPieces, expectBooks } from "../support/build-till.ts";
import { deviceOf, type Hall } from "../support/till-device.ts";
import { lineOf, saleFact } from "../support/till-facts.ts";

const perTill = 6;
let base: TestApp;
let hall: Hall;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 8);
});
afterAll(() => base.close());

const entry = (body: ReceiptFact) => ({ what: "receipt", body });

test("eight tills come back at once, in pieces, doubled and out of order: everything lands once", async () => {
  const own = await buildPieces(
    base.db,
    hall.sale,
    hall.weaver,
    Array.from({ length: 8 * (perTill - 1) }, () => ({ price: 900 })),
  );
  const [shared] = await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 12_000 }]);
  const made = hall.tills.map((till, at) =>
    Array.from({ length: perTill }, (_, index) => {
      const piece =
        index === 2 ? shared! : own[at * (perTill - 1) + (index < 2 ? index : index - 1)]!;
      return saleFact(hall, till, index + 1, [lineOf(piece)]);
    }),
  );
  const before = await Promise.all(hall.tills.map(inDrawer));
  await Promise.all(hall.tills.map((till, at) => comeBack(till, made[at]!)));

  const stored = await base.db.receipt.findMany({
    orderBy: [{ till: { number: "asc" } }, { number: "asc" }],
  });
  expect(stored.map(({ id }) => id)).toEqual(made.flat().map(({ id }) => id));
  const ofShared = await base.db.receiptLine.findMany({ where: { tag: shared!.tag } });
  expect(ofShared.filter(({ suspended }) => suspended)).toHaveLength(7);
  expect(ofShared).toHaveLength(8);
  const taken = made.map((facts) => facts.reduce((sum, { total }) => sum + total, 0));
  expect(await Promise.all(hall.tills.map(inDrawer))).toEqual(
    taken.map((sum, at) => before[at]! + sum),
  );
  await expectBooks(base.db);
});

async function inDrawer({ id }: { id: string }): Promise<number> {
  const { _sum } = await base.db.posting.aggregate({
    where: { accountKey: `drawer/${id}` },
    _sum: { amount: true },
  });
  return Number(_sum.amount ?? 0);
}

/** Batches that arrive backwards and doubled, as after lost answers, and then all in order. */
async function comeBack(till: Hall["tills"][number], facts: ReceiptFact[]): Promise<void> {
  const device = await deviceOf(base, hall, till);
  const send = (part: ReceiptFact[]) =>
    device
      .post("/api/till/outbox", { entries: part.map(entry) }, { "sec-fetch-site": "same-origin" })
      .expect(200);
  const early = await send(facts.slice(3));
  expect(early.body.problem.code).toBe("out-of-order");
  await Promise.all([send(facts.slice(0, 2)), send(facts.slice(0, 2))]);
  await send(facts.slice(1, 4));
  const all = await send(facts);
  expect(all.body.answers.map(({ id }: { id: string }) => id)).toEqual(facts.map(({ id }) => id));
}
