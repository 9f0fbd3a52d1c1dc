import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildSale } from "../support/build.ts";
import { buildHall } from "../support/build-till.ts";
import { type Hall, tillClient } from "../support/till-device.ts";

let base: TestApp;
let hall: Hall;
let chair: Client;
let cashier: Client;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 4);
  chair = await signedIn(base, hall.chair);
  cashier = await signedIn(base, hall.cashier);
});
afterAll(() => base.close());

const stranger = () => tillClient(base.app, "thrumbook-visitor=x");
const tillAt = (index: number) => hall.tills[index] as Hall["tills"][number];
const pathOf = (index: number) => `/api/sales/${hall.sale.id}/tills/${tillAt(index).id}`;
const json = { "sec-fetch-site": "same-origin" };

describe("enrolment", () => {
  const codeOf = async (index: number) => {
    const made = await chair.post(`${pathOf(index)}/code`).expect(201);
    return made.body.code as string;
  };

  test("gives the device a cookie that no script reads and no other site sends", async () => {
    const code = await codeOf(0);
    expect(code).toMatch(/^[2-9A-HJKMNP-Z]{4}-[2-9A-HJKMNP-Z]{4}$/);
    const body = { code, name: "Grey laptop" };
    const answer = await stranger().post("/api/till/enrolment", body, json).expect(201);
    expect(answer.body).toEqual({
      tillId: tillAt(0).id,
      number: 1,
      name: "Till 1",
      saleId: hall.sale.id,
    });
    const cookies = [answer.headers["set-cookie"] ?? []].flat();
    const cookie = cookies.find((line) => line.startsWith("thrumbook-till=")) ?? "";
    expect(cookie).toMatch(/^thrumbook-till=[\w-]{43}; Max-Age=34560000; Path=\/; /);
    expect(cookie).toMatch(/HttpOnly/);
    expect(cookie).toMatch(/SameSite=Strict/);
    const device = tillClient(base.app, cookie.split(";")[0] ?? "");
    const scene = await device.get("/api/till/scene").expect(200);
    expect(scene.body.till).toEqual({ id: tillAt(0).id, number: 1, name: "Till 1" });
    const again = await stranger().post("/api/till/enrolment", body, json);
    expect([again.status, again.body.code]).toEqual([410, "link-used"]);
    const other = { ...body, code: (await chair.post(`${pathOf(0)}/code`)).body.code };
    const taken = await stranger().post("/api/till/enrolment", other, json);
    expect([taken.status, taken.body.code]).toEqual([409, "already-done"]);
    const keeps = { tillId: tillAt(0).id, lastNumber: 0 };
    await stranger()
      .post("/api/till/enrolment", { ...other, keeps }, json)
      .expect(201);
  });

  test("works on a device where the chair is signed in, though its page holds no form token", async () => {
    const here = tillClient(base.app, chair.cookie);
    const body = { code: await codeOf(1), name: "The chair's own" };
    await here.post("/api/till/enrolment", body, json).expect(201);
  });

  test("is not done by a form or by a page of another site", async () => {
    const body = { code: await codeOf(2), name: "Forged" };
    const tries = [
      await stranger().post("/api/till/enrolment", body, { "sec-fetch-site": "cross-site" }),
      await stranger().post("/api/till/enrolment", body, { origin: "https://evil.example" }),
      await stranger().post("/api/till/enrolment", body).type("form"),
    ];
    expect(tries.map(({ body: { code } }) => code)).toEqual(Array(3).fill("form-expired"));
    expect(await base.db.tillDevice.count({ where: { tillId: tillAt(2).id } })).toBe(0);
  });

  test.each([
    [{}, "code"],
    [{ code: "ABCD-234O", name: "x" }, "code"],
    [{ code: 12345678, name: "x" }, "code"],
    [{ code: "ABCD-2345" }, "name"],
    [{ code: "ABCD-2345", name: " " }, "name"],
    [{ code: "ABCD-2345", name: "x".repeat(41) }, "name"],
    [{ code: "ABCD-2345", name: "x", attempt: "1" }, "attempt"],
  ])("%j names the field %s", async (body, field) => {
    const answer = await stranger().post("/api/till/enrolment", body, json).expect(400);
    expect(answer.body.errors.map((one: { field: string }) => one.field)).toContain(field);
  });

  test("codes and losses are for the chair, on tills of that sale", async () => {
    for (const who of [cashier, await signedIn(base, hall.treasurer)]) {
      expect((await who.post(`${pathOf(3)}/code`)).status).toBe(403);
      expect((await who.post(`${pathOf(3)}/loss`, { reason: "x" })).status).toBe(403);
    }
    const other = await buildSale(base.db, { name: "Spring sale" });
    const elsewhere = `/api/sales/${other.id}/tills/${tillAt(3).id}`;
    expect((await chair.post(`${elsewhere}/code`)).status).toBe(404);
    expect((await chair.post(`${elsewhere}/loss`, { reason: "x" })).status).toBe(404);
    expect((await chair.post(`${pathOf(3)}/loss`, { reason: "" })).body.errors[0].field).toBe(
      "reason",
    );
  });
});

describe("PINs", () => {
  test("are set by those who sell and taken away by the chair", async () => {
    expect((await cashier.put("/api/pin", { pin: "2580" })).status).toBe(204);
    const weak = await cashier.put("/api/pin", { pin: "1234" });
    expect([weak.status, weak.body.errors[0].field]).toEqual([400, "pin"]);
    const weaver = await signedIn(base, hall.weaver);
    expect((await weaver.put("/api/pin", { pin: "2580" })).status).toBe(403);
    const path = `/api/members/${hall.cashier.id}/pin`;
    expect((await cashier.delete(path)).status).toBe(403);
    expect((await chair.delete(path)).status).toBe(204);
    expect((await chair.delete(path)).status).toBe(404);
  });
});
