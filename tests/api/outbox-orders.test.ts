import fc from "fast-check";
import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { startApp, type TestApp } from "../support/app.ts";
import { type BuiltPiece, buildHall, buildPieces } from "../support/build-till.ts";
import { expectSound } from "../support/sound.ts";
import { deviceOf, type Hall } from "../support/till-device.ts";
import { lineOf, returnFact, saleFact } from "../support/till-facts.ts";

/** Orders of arrival that are tried, over all lanes; `OUTBOX_ORDERS=1000` for a longer run. */
const orders = Number(process.env.OUTBOX_ORDERS ?? 60);
const seed = Number(process.env.OUTBOX_SEED ?? Date.now() % 2 ** 31);

/** Two tills and the member whose pieces they sell: the lanes run beside each other. */
interface Lane {
  owner: { id: string; number: number };
  tills: { id: string; sessionId: string; device: Awaited<ReturnType<typeof deviceOf>> }[];
  stock: BuiltPiece[];
  next: [number, number];
}

let base: TestApp;
let hall: Hall;
let lanes: Lane[];
const acknowledged = new Set<string>();
let early = 0;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 8);
  const owners = [hall.weaver, hall.cashier, hall.chair, hall.treasurer];
  lanes = await Promise.all(
    owners.map(async (owner, lane) => ({
      owner,
      tills: await Promise.all(
        hall.tills.slice(2 * lane, 2 * lane + 2).map(async ({ id, sessionId }) => ({
          ...{ id, sessionId, device: await deviceOf(base, hall, { id }) },
        })),
      ),
      stock: await buildPieces(base.db, hall.sale, owner, prices(Math.ceil(orders / 4))),
      next: [0, 0] as [number, number],
    })),
  );
});
afterAll(() => base.close());

const prices = (count: number) =>
  Array.from({ length: count }, () => [
    { price: 1_200 },
    { price: 700 },
    { price: 500, quantity: 2 },
  ]).flat();

/** What each of the two tills has made: one piece sold at both, a stack shared, a return, cash moved. */
function outboxes({ tills, stock, next }: Lane) {
  const [twice, back, shared] = stock.splice(-3) as [BuiltPiece, BuiltPiece, BuiltPiece];
  const at = (till: 0 | 1) => tills[till]!;
  const sell = (till: 0 | 1, pieces: BuiltPiece[]) =>
    saleFact(
      hall,
      at(till),
      ++next[till],
      pieces.map((piece) => lineOf(piece)),
    );
  const [first, second] = [sell(0, [back]), sell(0, [twice, shared])];
  const [third, fourth] = [sell(1, [twice]), sell(1, [shared])];
  const move = {
    ...{ id: v7(), madeAt: new Date().toISOString(), tillSessionId: at(0).sessionId },
    ...{ cashierId: hall.cashier.id, kind: "to-safe", amount: 300, counts: [], reason: "" },
  };
  const entry = (body: { id: string }) => ({ what: "receipt", body });
  const returned = returnFact(first, at(1), ++next[1]);
  return {
    pieces: [twice, back, shared],
    entries: [
      [entry(first), entry(second), { what: "cash-move", body: move }],
      [entry(third), entry(fourth), entry(returned)],
    ],
    taken: [first.total + second.total - 300, third.total + fourth.total - first.total],
  };
}

type Entries = ReturnType<typeof outboxes>["entries"][number];

/** Sends entries as a till does; whatever is answered is acknowledged for good. */
async function send({ device }: Lane["tills"][number], entries: Entries) {
  const { body } = await device
    .post("/api/till/outbox", { entries }, { "sec-fetch-site": "same-origin" })
    .expect(200);
  const answers = body.answers as { id: string; notes: string[] }[];
  expect(["out-of-order", undefined]).toContain(body.problem?.code);
  const moves = new Set(entries.flatMap((one) => (one.what === "cash-move" ? [one.body.id] : [])));
  for (const { id } of answers) if (!moves.has(id)) acknowledged.add(id);
  return answers;
}

const balances = async ({ owner, tills }: Lane) => {
  const keys = [`member/${owner.id}`, ...tills.map(({ id }) => `drawer/${id}`)];
  const rows = await base.db.posting.groupBy({
    by: ["accountKey"],
    where: { accountKey: { in: keys } },
    _sum: { amount: true },
  });
  return keys.map((key) => Number(rows.find((row) => row.accountKey === key)?._sum.amount ?? 0n));
};

/** What stands in suspense for these receipts and has no owner yet. */
const suspended = async (ids: string[]) => {
  const lines = await base.db.receiptLine.findMany({
    where: { receiptId: { in: ids }, suspended: true, identified: null },
    select: { amount: true },
  });
  return lines.map(({ amount }) => Number(amount));
};

/** A part of one till's outbox, forwards or backwards. */
interface Part {
  till: 0 | 1;
  from: number;
  count: number;
  backwards: boolean;
}
const part: fc.Arbitrary<Part> = fc.record({
  till: fc.constantFrom(0 as const, 1 as const),
  from: fc.nat(2),
  count: fc.integer({ min: 1, max: 3 }),
  backwards: fc.boolean(),
});
/** What arrives in which order; the parts of an inner list arrive at once. */
const arrivals = fc.array(fc.array(part, { minLength: 1, maxLength: 3 }), { maxLength: 4 });
const whole = { from: 0, count: 3, backwards: false };
const atLast: Part[] = [
  { till: 0, ...whole },
  { till: 1, ...whole },
];

async function settlesTheSame(lane: Lane, plan: Part[][]): Promise<void> {
  const made = outboxes(lane);
  const before = await balances(lane);
  const arrive = async ({ till, from, count, backwards }: Part) => {
    const sent = made.entries[till]!.slice(from, from + count);
    const answers = await send(lane.tills[till]!, backwards ? sent.toReversed() : sent);
    if (answers.some(({ notes }) => notes.includes("awaits-sale"))) early += 1;
    return answers.length;
  };
  for (const together of plan) await Promise.all(together.map(arrive));
  expect(await Promise.all(atLast.map(arrive))).toEqual([3, 3]);
  const after = await balances(lane);
  expect(after.map((sum, at) => sum - before[at]!)).toEqual([-2_200, ...made.taken]);
  const ids = made.entries.flat().map(({ body }) => body.id);
  expect(await suspended(ids)).toEqual([1_200]);
  const counts = await base.db.itemCount.findMany({
    where: { itemId: { in: made.pieces.map(({ id }) => id) } },
  });
  const places = made.pieces.map(({ id }) => counts.find(({ itemId }) => itemId === id)!);
  expect(places.map(({ onFloor, withBuyer }) => [onFloor, withBuyer])).toEqual([
    [0, 1],
    [1, 0],
    [0, 2],
  ]);
}

test(`${orders} orders of arrival, with parts doubled, cut and backwards, end in the same books (seed ${seed})`, async () => {
  await Promise.all(
    lanes.map((lane, at) =>
      fc.assert(
        fc.asyncProperty(arrivals, (plan) => settlesTheSame(lane, plan)),
        // A lane's stock lasts for its own runs; a seed finds the failing order again.
        { seed: seed + at, numRuns: Math.ceil(orders / lanes.length), endOnFailure: true },
      ),
    ),
  );
  expect(early).toBeGreaterThan(0);
  expect(acknowledged.size).toBe(5 * Math.ceil(orders / lanes.length) * lanes.length);
  await expectSound(base.db, [...acknowledged]);
}, 600_000);
