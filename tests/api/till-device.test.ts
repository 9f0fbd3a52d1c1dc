import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildMember, buildSale } from "../support/build.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { deviceOf, givePin, type Hall, tillClient } from "../support/till-device.ts";

let base: TestApp;
let hall: Hall;
let chair: Client;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 4);
  chair = await signedIn(base, hall.chair);
});
afterAll(() => base.close());

const nobody = tillClient({} as never, "");
const stranger = () => tillClient(base.app, "thrumbook-visitor=x");
const tillAt = (index: number) => hall.tills[index] as Hall["tills"][number];
const json = { "sec-fetch-site": "same-origin" };

describe("a device", () => {
  const fresh = async () => {
    const number = 10 + (await base.db.till.count());
    const till = await base.db.till.create({
      data: { saleId: hall.sale.id, number, name: `Till ${number}` },
    });
    return { till, device: await deviceOf(base, hall, till) };
  };

  test("that is none is told so in plain words, on every route", async () => {
    expect(nobody.cookie).toBe("");
    const signed = tillClient(base.app, chair.cookie);
    const forged = tillClient(base.app, "thrumbook-till=made-up");
    for (const who of [stranger(), signed, forged]) {
      const answers = [
        await who.get("/api/till/scene"),
        await who.get("/api/till/catalogue"),
        await who.get("/api/till/events?after=1"),
        await who.post("/api/till/status", { unsent: 0, lastNumber: 0 }, json),
      ];
      expect(answers.map(({ status, body }) => [status, body.code])).toEqual(
        Array(4).fill([401, "not-a-till"]),
      );
      expect(answers[0]?.body.detail).toContain("Ask the chair for a code");
    }
  });

  test("that is lost is refused from that moment on", async () => {
    const { till, device } = await fresh();
    await device.get("/api/till/scene").expect(200);
    const path = `/api/sales/${hall.sale.id}/tills/${till.id}/loss`;
    const key = v7();
    const first = await chair.post(path, { reason: "Dropped in the dye pot" }, key).expect(201);
    expect((await device.get("/api/till/scene")).body.code).toBe("not-a-till");
    expect((await device.get("/api/till/catalogue")).body.code).toBe("not-a-till");
    const again = await chair.post(path, { reason: "Dropped in the dye pot" }, key).expect(201);
    expect(again.body).toEqual(first.body);
  });

  test("is refused what only people may do", async () => {
    const { device } = await fresh();
    for (const path of ["/api/members", "/api/audit", "/api/guild", "/api/accounts"])
      expect((await device.get(path)).status).toBe(401);
  });

  test("sees its sale, its session, the goods and those who may sell", async () => {
    await givePin(base, hall.cashier);
    const resting = await buildMember(base.db, ["cashier"], { status: "resting" });
    const weaver = await buildMember(base.db, ["member"]);
    for (const person of [resting, weaver]) await givePin(base, person);
    const good = { saleId: hall.sale.id, kind: "goods", taxKind: "bag", position: 2, price: 250n };
    await base.db.guildGood.createMany({
      data: [
        { ...good, name: "Bag" },
        { ...good, name: "Gift", kind: "donation", price: null, position: 1 },
        { ...good, name: "Old", retiredAt: new Date() },
      ],
    });
    const device = await deviceOf(base, hall, tillAt(3));
    const { body } = await device.get("/api/till/scene").expect(200);
    expect(body.sale).toMatchObject({ id: hall.sale.id, stage: "selling", cashStep: 1 });
    expect(body.sale.tax.components).toMatchObject([{ rate: 8_250, name: "Sales tax" }]);
    expect(body.session).toMatchObject({
      id: tillAt(3).sessionId,
      float: 10_000,
      openedBy: hall.cashier.name,
    });
    expect(body.goods.map((one: { name: string }) => one.name)).toEqual(["Gift", "Bag"]);
    expect(body.cashiers.map((one: { id: string }) => one.id)).toEqual([hall.cashier.id]);
    expect(body.lastNumber).toBe(0);
  });

  test("sees nothing of another sale", async () => {
    const other = await buildSale(base.db, { name: "Autumn sale", stage: "selling" });
    const till = await base.db.till.create({ data: { saleId: other.id, number: 1, name: "One" } });
    await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 1_000 }, { price: 2_000 }]);
    const device = await deviceOf(base, hall, till);
    const scene = (await device.get("/api/till/scene").expect(200)).body;
    expect([scene.sale.id, scene.goods, scene.session]).toEqual([other.id, [], null]);
    expect((await device.get("/api/till/catalogue").expect(200)).body.items).toEqual([]);
    const { device: ours } = await fresh();
    expect((await ours.get("/api/till/catalogue")).body.items).toHaveLength(2);
  });

  test("gets no PINs any more when its sale is closed", async () => {
    const closed = await buildSale(base.db, { name: "Past sale", stage: "closed" });
    const till = await base.db.till.create({ data: { saleId: closed.id, number: 1, name: "One" } });
    const device = await deviceOf(base, hall, till);
    expect((await device.get("/api/till/scene").expect(200)).body.cashiers).toEqual([]);
  });

  test.each(["x", "-1", "1.5", "", "9".repeat(19)])("a cursor %j is none", async (after) => {
    const { device } = await fresh();
    const path = `/api/till/catalogue?after=${after}`;
    expect((await device.get(path)).body.code).toBe("invalid-input");
  });
});

describe("what a till says of itself", () => {
  const rowOf = (tillId: string) => base.db.tillDevice.findUniqueOrThrow({ where: { tillId } });
  const status = (unsent: number, lastNumber: number) => ({
    "x-till-status": JSON.stringify({ unsent, lastNumber }),
  });

  test("is noted every five seconds, and at once when everything is sent", async () => {
    const till = await base.db.till.create({
      data: { saleId: hall.sale.id, number: 90, name: "Ninety" },
    });
    const device = await deviceOf(base, hall, till);
    const start = new Date("2026-11-27T10:00:00Z");
    const at = (seconds: number) => base.at(new Date(start.getTime() + seconds * 1000));
    at(0);
    await device.get("/api/till/scene", status(2, 17));
    expect(await rowOf(till.id)).toMatchObject({ lastSeenAt: start, unsent: 2, lastNumber: 17 });
    at(3);
    await device.get("/api/till/scene", status(3, 18));
    expect(await rowOf(till.id)).toMatchObject({ lastSeenAt: start, unsent: 2 });
    await device.post("/api/till/status", { unsent: 0, lastNumber: 18 }, json).expect(204);
    expect(await rowOf(till.id)).toMatchObject({ unsent: 0, lastNumber: 18 });
    at(9);
    await device.get("/api/till/scene", { "x-till-status": "{not json" });
    expect(await rowOf(till.id)).toMatchObject({ unsent: 0, lastNumber: 18 });
    expect((await rowOf(till.id)).lastSeenAt?.getTime()).toBe(start.getTime() + 9_000);
    at(20);
    await device.get("/api/till/scene", status(1, 3));
    expect(await rowOf(till.id)).toMatchObject({ unsent: 1, lastNumber: 18 });
    const list = await chair.get(`/api/sales/${hall.sale.id}/till-devices`).expect(200);
    expect(list.body.items.find(({ id }: { id: string }) => id === till.id)).toMatchObject({
      open: false,
      device: { name: "Grey laptop", unsent: 1, lastNumber: 18, lostAt: null },
    });
    base.at(new Date());
  });

  test.each([{}, { unsent: -1, lastNumber: 0 }, { unsent: 1.5, lastNumber: 0 }, { unsent: "1" }])(
    "%j is not taken",
    async (body) => {
      const till = tillAt(2);
      await base.db.tillDevice.deleteMany({ where: { tillId: till.id } });
      const device = await deviceOf(base, hall, till);
      expect((await device.post("/api/till/status", body, json)).status).toBe(400);
      expect(await rowOf(till.id)).toMatchObject({ unsent: 0 });
    },
  );
});
