import pg from "pg";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { markTillLost } from "../../src/actions/mark-till-lost.ts";
import { addTill } from "../../src/actions/tills.ts";
import { type CatalogueDelta, catalogueDelta } from "../../src/contract/till-device.ts";
import { startApp, type TestApp } from "../support/app.ts";
import { buildSale, deedOf } from "../support/build.ts";
import { done } from "../support/build-settlement.ts";
import { type BuiltPiece, buildHall, buildPieces } from "../support/build-till.ts";
import { listen } from "../support/event-stream.ts";
import { deviceOf, givePin, type Hall, sellOne } from "../support/till-device.ts";

let base: TestApp;
let hall: Hall;
let pieces: BuiltPiece[];
let client: pg.Client;
const open: { close(): void }[] = [];

beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 3);
  const wanted = Array.from({ length: 12 }, (_, index) => ({ price: 1_000 + index }));
  pieces = await buildPieces(base.db, hall.sale, hall.weaver, wanted);
  client = new pg.Client({ connectionString: base.url });
  await client.connect();
});
afterEach(() => {
  for (const stream of open.splice(0)) stream.close();
});
afterAll(async () => {
  await client.end();
  await base.close();
});

const devices = new Map<number, Awaited<ReturnType<typeof deviceOf>>>();
async function device(index: number) {
  const known = devices.get(index);
  if (known) return known;
  const made = await deviceOf(base, hall, hall.tills[index] as { id: string });
  devices.set(index, made);
  return made;
}

const cursorOf = async (index: number): Promise<string> =>
  (await (await device(index)).get("/api/till/catalogue").expect(200)).body.cursor;

async function stream(index: number, after?: string, headers: Record<string, string> = {}) {
  const { cookie } = await device(index);
  const path = `/api/till/events${after === undefined ? "" : `?after=${after}`}`;
  const heard = await listen(base, path, { cookie, ...headers });
  open.push(heard);
  return heard;
}
const tagsIn = ({ data }: { data: unknown }): string[] =>
  catalogueDelta.parse(data).items.map(({ tag }) => tag);
/** A receipt is written by SQL here, so the test tells the tills as its recorder would. */
async function sell(index: number, piece: BuiltPiece) {
  await sellOne(client, hall, hall.tills[index] as never, piece);
  await client.query("NOTIFY till_change");
}

describe("a till that listens", () => {
  test("gets a stream that nobody on the way keeps back", async () => {
    const heard = await stream(0, await cursorOf(0));
    expect(heard.status).toBe(200);
    expect(heard.headers).toMatchObject({
      "content-type": "text/event-stream; charset=utf-8",
      "cache-control": "no-store",
      "x-accel-buffering": "no",
      "x-content-type-options": "nosniff",
    });
    await heard.next("scene");
    const { id, data } = await heard.next("goods");
    expect(id).toBe((data as CatalogueDelta).cursor);
  });

  test("hears at once what another till sold", async () => {
    const [one, two] = [await stream(0, await cursorOf(0)), await stream(1, await cursorOf(1))];
    await Promise.all([one.next("goods"), two.next("goods")]);
    const before = [one.events.length, two.events.length];
    const piece = pieces[0] as BuiltPiece;
    await sell(2, piece);
    const heard = [await one.next("goods", before[0]), await two.next("goods", before[1])];
    expect(heard.map(tagsIn)).toEqual([[piece.tag], [piece.tag]]);
    const [item] = catalogueDelta.parse(heard[0]?.data).items;
    expect(item).toMatchObject({ state: "sold", sold: { till: 3 } });
  });

  test("gets what it missed when it comes back, by the id it saw last", async () => {
    const first = await stream(0, await cursorOf(0));
    const { id = "" } = await first.next("goods");
    first.close();
    const missed = pieces[1] as BuiltPiece;
    await sell(2, missed);
    const back = await stream(0, "1", { "last-event-id": id });
    const { data } = await back.next("goods");
    expect(tagsIn({ data })).toContain(missed.tag);
    expect((data as CatalogueDelta).changesOnly).toBe(true);
  });

  test("gets nothing of another sale", async () => {
    const heard = await stream(0, await cursorOf(0));
    await heard.next("goods");
    const before = heard.events.length;
    const other = await buildSale(base.db, { name: "Another sale", stage: "selling" });
    const [foreign] = await buildPieces(base.db, other, hall.weaver, [{ price: 900 }]);
    await client.query("NOTIFY till_change");
    const piece = pieces[2] as BuiltPiece;
    await sell(2, piece);
    const goods = await heard.next("goods", before);
    expect(tagsIn(goods)).toEqual([piece.tag]);
    expect(tagsIn(goods)).not.toContain(foreign?.tag);
  });

  test("is told that the scene changed: a new PIN, another stage, a good", async () => {
    const heard = await stream(0, await cursorOf(0));
    const changes = [
      () => givePin(base, hall.cashier),
      () => base.db.sale.update({ where: { id: hall.sale.id }, data: { receiptFooter: "Thanks" } }),
      () =>
        base.db.guildGood.create({
          data: { saleId: hall.sale.id, name: "Bag", kind: "goods", price: 100n, position: 1 },
        }),
    ];
    await heard.next("goods");
    for (const change of changes) {
      const before = heard.events.length;
      await change();
      await client.query("NOTIFY till_change");
      await heard.next("scene", before);
    }
    expect(heard.events.filter(({ name }) => name === "scene")).toHaveLength(4);
  });

  test("hears of a deed that anybody does through the service", async () => {
    const heard = await stream(0, await cursorOf(0));
    await heard.next("goods");
    const before = heard.events.length;
    await base.db.sale.update({ where: { id: hall.sale.id }, data: { receiptFooter: "Bye" } });
    // The deed itself is about something else; every deed makes the streams look.
    done(await addTill(deedOf(base.db, hall.chair), hall.sale.id, { name: "Side door" }));
    await heard.next("scene", before);
  });

  test("is cut off the moment it is noted as lost", async () => {
    const heard = await stream(2, await cursorOf(2));
    await heard.next("goods");
    const given = { saleId: hall.sale.id, tillId: hall.tills[2]?.id ?? "", reason: "Stolen" };
    done(await markTillLost(deedOf(base.db, hall.chair), given));
    await heard.next("gone");
    await heard.ended();
    expect((await stream(2, "1")).status).toBe(401);
  });
});

describe("the server", () => {
  test("wants a cursor", async () => {
    expect((await stream(0)).status).toBe(400);
    expect((await stream(0, "x")).status).toBe(400);
  });

  test("drops a listener when its till goes away, and takes forty at most", async () => {
    const until = async (count: number) => {
      while (base.app.tillNews.count() !== count)
        await new Promise((resolve) => setTimeout(resolve, 10));
    };
    await until(0);
    const cursor = await cursorOf(0);
    const many = await Promise.all(Array.from({ length: 40 }, () => stream(0, cursor)));
    expect(many.map(({ status }) => status)).toEqual(Array(40).fill(200));
    expect(base.app.tillNews.count()).toBe(40);
    expect((await stream(1, cursor)).status).toBe(429);
    for (const heard of many.slice(0, 39)) heard.close();
    await until(1);
    expect((await stream(1, cursor)).status).toBe(200);
  });

  test("answers HEAD without opening a stream", async () => {
    const { cookie } = await device(0);
    const answer = await base.app.inject({
      method: "HEAD",
      url: "/api/till/events?after=1",
      headers: { cookie },
    });
    expect(answer.statusCode).toBe(404);
  });
});

test("a server that stops ends its streams and keeps no listener", async () => {
  const other = await startApp();
  const there = await buildHall(other.db, 1);
  const { cookie } = await deviceOf(other, there, there.tills[0] as { id: string });
  const heard = await listen(other, "/api/till/events?after=1", { cookie });
  await heard.next("goods");
  expect(other.app.tillNews.count()).toBe(1);
  await Promise.all([other.close(), heard.ended()]);
  expect(other.app.tillNews.count()).toBe(0);
});
