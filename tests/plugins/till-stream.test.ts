import pg from "pg";
import { afterAll, beforeAll, expect, test } from "vitest";
import { readCatalogue } from "../../src/database/till-catalogue.ts";
import type { KnownDevice } from "../../src/database/till-devices.ts";
import { openTillStream } from "../../src/plugins/till-stream.ts";
import type { TillNews } from "../../src/plugins/types.ts";
import { type BuiltPiece, buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { type Hall, sellOne } from "../support/till-device.ts";

let base: TestDatabase;
let hall: Hall;
let pieces: BuiltPiece[];
let till: KnownDevice;
const clients: pg.Client[] = [];

beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 3);
  pieces = await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 900 }, { price: 800 }]);
  const [first] = hall.tills;
  const tillId = first?.id ?? "";
  await base.db.tillDevice.create({
    data: { tillId, name: "Phone", tokenHash: "hash", enrolledById: hall.chair.id },
  });
  const known = { tillId, number: 1, saleId: hall.sale.id, device: "Phone", tokenHash: "hash" };
  till = { ...known, lastSeenAt: null, unsent: 0, lastNumber: 0 };
});
afterAll(async () => {
  await Promise.all(clients.map((client) => client.end()));
  await base.drop();
});

async function connection(): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: base.url });
  await client.connect();
  clients.push(client);
  return client;
}

/** News that the test itself brings, or never. */
function newsByHand(): TillNews & { wake(): void } {
  const listeners = new Set<() => void>();
  return {
    listen: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    count: () => listeners.size,
    wake: () => {
      for (const listener of listeners) listener();
    },
  };
}

async function open(news: TillNews) {
  const { cursor } = await readCatalogue(base.db, hall.sale.id, undefined);
  const stream = openTillStream(base.db, news, till, cursor);
  let text = "";
  stream.readable.on("data", (part: Buffer) => {
    text += part.toString();
  });
  const times = (word: string) => text.split(word).length - 1;
  const until = async (holds: () => boolean) => {
    while (!holds()) await new Promise((resolve) => setTimeout(resolve, 10));
  };
  await until(() => times("event: goods") > 0);
  return { stream, times, until };
}

test("a change whose news got lost is found all the same", async () => {
  const { stream, times, until } = await open(newsByHand());
  const { tag } = pieces[0] as BuiltPiece;
  const already = times(tag);
  await sellOne(await connection(), hall, hall.tills[1] as never, pieces[0] as BuiltPiece);
  await until(() => times(tag) > already);
  stream.close();
});

test("while an older transaction stays open, a change comes once and not at every look", async () => {
  const news = newsByHand();
  const [early, late] = [await connection(), await connection()];
  await early.query("BEGIN");
  await early.query("SELECT pg_current_xact_id()");
  const { stream, times, until } = await open(news);
  const piece = pieces[1] as BuiltPiece;
  const already = times(piece.tag);
  await sellOne(late, hall, hall.tills[2] as never, piece);
  news.wake();
  await until(() => times(piece.tag) > already);
  const goods = times("event: goods");
  for (let look = 0; look < 3; look += 1) {
    news.wake();
    await new Promise((resolve) => setTimeout(resolve, 250));
  }
  expect(times("event: goods")).toBe(goods);
  await early.query("ROLLBACK");
  stream.close();
});

test("a closed stream listens no more and ends", async () => {
  const news = newsByHand();
  const { stream, until } = await open(news);
  expect(news.count()).toBe(1);
  stream.close();
  stream.close();
  expect(news.count()).toBe(0);
  await until(() => stream.readable.closed);
});
