import pg from "pg";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type CatalogueItem, catalogueDelta } from "../../src/contract/till-device.ts";
import { catalogueJson, readCatalogue } from "../../src/database/till-catalogue.ts";
import { floorState } from "../../src/rules/on-floor.ts";
import { showReceiptNumber } from "../../src/rules/receipt-number.ts";
import { buildSale } from "../support/build.ts";
import { type BuiltPiece, buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { sellOne } from "../support/till-device.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
let pieces: BuiltPiece[];
const clients: pg.Client[] = [];

async function connection(): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: base.url });
  await client.connect();
  clients.push(client);
  return client;
}

beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 2);
  const wanted = Array.from({ length: 30 }, (_, index) => ({ price: 1_000 + index }));
  pieces = await buildPieces(base.db, hall.sale, hall.weaver, wanted);
});
afterAll(async () => {
  await Promise.all(clients.map((client) => client.end()));
  await base.drop();
});

/** What a till gets, checked by the contract. */
const read = async (after?: string, saleId = hall.sale.id) =>
  catalogueDelta.parse(JSON.parse(catalogueJson(await readCatalogue(base.db, saleId, after))));

/**
 * A cursor past all that was changed so far. Transactions of other tests on the same server hold
 * it back for as long as they run.
 */
async function cursorNow(saleId = hall.sale.id): Promise<string> {
  for (;;) {
    const { cursor } = await read(undefined, saleId);
    if ((await read(cursor, saleId)).items.length === 0) return cursor;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

const piece = (index: number) => pieces[index] as BuiltPiece;

describe("the whole list", () => {
  test("has every item of this sale as a till needs it, and none of another", async () => {
    const other = await buildSale(base.db, { name: "Another sale" });
    const whole = await read();
    expect(whole.changesOnly).toBe(false);
    expect(whole.items.map(({ tag }) => tag).sort()).toEqual(pieces.map(({ tag }) => tag).sort());
    expect(whole.items.find(({ id }) => id === piece(3).id)).toEqual({
      ...{ id: piece(3).id, tag: piece(3).tag, price: 1_003, description: "Scarf 4", size: "" },
      ...{ memberNumber: hall.weaver.number, onFloor: 1, entered: 1, piecesInSet: 1 },
      ...{ taxKind: (await base.db.kind.findFirstOrThrow()).code, donated: false },
      ...{ markdown: false, state: "on-floor", sold: null },
    });
    expect((await read(undefined, other.id)).items).toEqual([]);
  });

  test("tells the states that the rule tells, withdrawn and not checked in among them", async () => {
    const [kept, gone] = await buildPieces(base.db, hall.sale, hall.weaver, [
      { price: 500, quantity: 3, onFloor: 0 },
      { price: 500, onFloor: 0 },
    ]);
    const withdrawnAt = new Date();
    await base.db.item.update({ where: { id: gone?.id ?? "" }, data: { withdrawnAt } });
    const { items } = await read();
    const counts = await base.db.itemCount.findMany({ include: { item: true } });
    const states = Object.fromEntries(items.map(({ id, state }) => [id, state]));
    const wanted = counts.map(({ itemId, item, ...count }) => [
      itemId,
      floorState({ ...count, withdrawn: item.withdrawnAt !== null }),
    ]);
    expect(states).toEqual(Object.fromEntries(wanted));
    expect([states[kept?.id ?? ""], states[gone?.id ?? ""]]).toEqual([
      "not-checked-in",
      "withdrawn",
    ]);
  });
});

describe("changes since a cursor", () => {
  const ids = (items: CatalogueItem[]) => items.map(({ id }) => id);

  test("are none when nothing happened", async () => {
    const cursor = await cursorNow();
    const next = await read(cursor);
    expect([next.changesOnly, next.items]).toEqual([true, []]);
    expect(BigInt(next.cursor)).toBeGreaterThanOrEqual(BigInt(cursor));
  });

  test("name the piece that was sold, where and when", async () => {
    const cursor = await cursorNow();
    await sellOne(await connection(), hall, hall.tills[1] as never, piece(0));
    const { items } = await read(cursor);
    const receipt = await base.db.receipt.findFirstOrThrow();
    expect(items).toHaveLength(1);
    expect(items[0]).toMatchObject({ id: piece(0).id, state: "sold", onFloor: 0 });
    expect(items[0]?.sold).toEqual({
      till: 2,
      receipt: showReceiptNumber(2, receipt.number),
      at: receipt.madeAt.toISOString(),
    });
  });

  test("tell an edited price and a withdrawal", async () => {
    const cursor = await cursorNow();
    const [one, two] = await buildPieces(base.db, hall.sale, hall.weaver, [
      { price: 500, onFloor: 0 },
      { price: 500, onFloor: 0 },
    ]);
    const from = await cursorNow();
    await base.db.item.update({ where: { id: one?.id ?? "" }, data: { price: 7_700n } });
    await base.db.item.update({ where: { id: two?.id ?? "" }, data: { withdrawnAt: new Date() } });
    expect(ids((await read(cursor)).items).sort()).toEqual([one?.id, two?.id].sort());
    const { items } = await read(from);
    expect(ids(items).sort()).toEqual([one?.id, two?.id].sort());
    expect(items.find(({ id }) => id === one?.id)?.price).toBe(7_700);
    expect(items.find(({ id }) => id === two?.id)?.state).toBe("withdrawn");
  });

  test("miss nothing when a transaction that began first ends last", async () => {
    const [early, late] = [await connection(), await connection()];
    const cursor = await cursorNow();
    await early.query("BEGIN");
    await sellOne(early, hall, hall.tills[0] as never, piece(4));
    await late.query("BEGIN");
    await sellOne(late, hall, hall.tills[1] as never, piece(5));
    await late.query("COMMIT");
    const between = await read(cursor);
    // What is committed comes at once, and the cursor waits for what is still open.
    expect(ids(between.items)).toEqual([piece(5).id]);
    await early.query("COMMIT");
    const after = await read(between.cursor);
    expect(ids(after.items).sort()).toEqual([piece(4).id, piece(5).id].sort());
    await cursorNow();
  });

  test("miss nothing through any order of commits and rollbacks", async () => {
    const tills = [await connection(), await connection(), await connection()];
    const held = new Map<string, { state: string }>();
    let cursor = await cursorNow();
    const hear = async () => {
      const delta = await read(cursor);
      cursor = delta.cursor;
      for (const { id, state } of delta.items) held.set(id, { state });
    };
    const orders = [
      [0, 1, 2],
      [2, 1, 0],
      [1, 2, 0],
      [1, 0, 2],
    ];
    for (const [round, order] of orders.entries()) {
      const free = tills.map((client, index) => ({ client, item: piece(6 + 3 * round + index) }));
      for (const { client, item } of free) {
        await client.query("BEGIN");
        await client.query("UPDATE item SET version = version + 1 WHERE id = $1", [item.id]);
        await hear();
      }
      for (const index of order) {
        await free[index]?.client.query(round === 3 && index === 0 ? "ROLLBACK" : "COMMIT");
        await hear();
      }
    }
    const changed = pieces.slice(6, 18).map(({ id }) => id);
    const rolledBack = piece(15).id;
    expect([...held.keys()].sort()).toEqual(changed.filter((id) => id !== rolledBack).sort());
  });

  test("miss nothing when a transaction that began first changes a piece last", async () => {
    const [early, late] = [await connection(), await connection()];
    const change = "UPDATE item SET description = $2 WHERE id = $1";
    const cursor = await cursorNow();
    await early.query("BEGIN");
    await early.query("UPDATE item SET version = version + 1 WHERE id = $1", [piece(21).id]);
    await late.query(change, [piece(22).id, "From the later one"]);
    const between = await read(cursor);
    expect(between.items.map(({ description }) => description)).toEqual(["From the later one"]);
    await early.query(change, [piece(22).id, "From the earlier one"]);
    const open = await read(between.cursor);
    expect(open.items.map(({ description }) => description)).toEqual(["From the later one"]);
    await early.query("COMMIT");
    for (const seen of [cursor, between.cursor, open.cursor]) {
      const { items } = await read(seen);
      expect(ids(items).sort()).toEqual([piece(21).id, piece(22).id].sort());
      expect(items.find(({ id }) => id === piece(22).id)?.description).toBe("From the earlier one");
    }
    await cursorNow();
  });

  test("reach a till that was away for a day of changes, and take up no more room for them", async () => {
    const cursor = await cursorNow();
    const [busy, other] = await buildPieces(base.db, hall.sale, hall.weaver, [
      { price: 500, quantity: 40 },
      { price: 500 },
    ]);
    const client = await connection();
    for (let sold = 0; sold < 30; sold += 1)
      await sellOne(client, hall, hall.tills[0] as never, busy as BuiltPiece);
    await base.db.item.update({ where: { id: busy?.id ?? "" }, data: { markdown: true } });
    const { changesOnly, items } = await read(cursor);
    expect(changesOnly).toBe(true);
    expect(ids(items).sort()).toEqual([busy?.id, other?.id].sort());
    expect(items.find(({ id }) => id === busy?.id)).toMatchObject({ onFloor: 10, markdown: true });
    // One row says that the piece changed, another that its count did.
    expect(await base.db.tillChange.count({ where: { itemId: busy?.id ?? "" } })).toBe(2);
    await cursorNow();
  });

  test("are the whole list again for a cursor that this database has not reached", async () => {
    const cursor = await cursorNow();
    const whole = await read(String(BigInt(cursor) + 1_000_000n));
    expect(whole.changesOnly).toBe(false);
    expect(whole.items.length).toBeGreaterThanOrEqual(pieces.length);
    expect(BigInt(whole.cursor)).toBeLessThan(BigInt(cursor) + 1_000n);
  });

  test("of another sale stay there", async () => {
    const other = await buildSale(base.db, { name: "Third sale", stage: "selling" });
    const cursor = await cursorNow(other.id);
    await base.db.item.update({ where: { id: piece(20).id }, data: { version: 9 } });
    expect((await read(cursor, other.id)).items).toEqual([]);
  });
});
