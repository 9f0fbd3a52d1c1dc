import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildSale } from "../support/build.ts";
import { buildHall } from "../support/build-till.ts";
import { deviceOf, givePin, type Hall } from "../support/till-device.ts";

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

const tillAt = (index: number) => hall.tills[index] as Hall["tills"][number];
const tills = () => `/sales/${hall.sale.id}/tills`;

describe("the tills of a sale", () => {
  test("offer a code to a till without a device, which is shown once", async () => {
    const page = await chair.visit(tills());
    expect(page.text).toContain(`action="${tills()}/${tillAt(0).id}/code"`);
    const shown = await chair.submit(`${tills()}/${tillAt(0).id}/code`);
    expect(shown.status).toBe(200);
    const code = /class="hero">([2-9A-HJKMNP-Z]{4}-[2-9A-HJKMNP-Z]{4})</.exec(shown.text)?.[1];
    expect(code).toBeDefined();
    expect(shown.text).toMatch(/http:\/\/127\.0\.0\.1:\d+\/till\//);
    expect((await chair.visit(tills())).text).not.toContain(code);
  });

  test("show how each device is, in words", async () => {
    await deviceOf(base, hall, tillAt(1));
    await deviceOf(base, hall, tillAt(2));
    const lastSeenAt = new Date("2026-11-27T18:05:00Z");
    const where = { tillId: tillAt(2).id };
    await base.db.tillDevice.update({ where, data: { unsent: 3, lastSeenAt } });
    const { text } = await chair.visit(tills());
    expect(text).toContain("Enrolled, not used yet");
    expect(text).toContain("Has not sent everything");
    expect(text).toContain("3 receipts");
    // The guild's clock is in Chicago, six hours behind in November.
    expect(text).toMatch(/Nov 27, 2026, 12:05\sPM/);
    expect(text).toContain("Let its device in again");
    const again = await chair.submit(`${tills()}/${tillAt(1).id}/code`);
    expect(again.text).toContain("/till/?again");
    expect(again.text).toContain("Take “Grey laptop” itself");
    await base.db.tillDevice.update({ where, data: { unsent: 0, lastSeenAt: new Date() } });
    expect((await chair.visit(tills())).text).toContain("On line");
  });

  test("shut a lost device out, with its reason and only once", async () => {
    await deviceOf(base, hall, tillAt(3));
    const path = `${tills()}/${tillAt(3).id}/lost`;
    await base.db.tillDevice.update({ where: { tillId: tillAt(3).id }, data: { unsent: 2 } });
    expect((await chair.visit(path)).text).toContain("It has not sent everything");
    const empty = await chair.submit(path, { reason: " " });
    expect(empty.status).toBe(400);
    expect(empty.text).toContain("Say what happened to the device");
    const done = await chair.submit(path, { reason: "Fell into the river" });
    expect([done.status, done.headers.location]).toEqual([303, tills()]);
    const again = await chair.submit(path, { reason: "Once more" });
    expect(again.status).toBe(409);
    expect(again.text).toContain("Once more");
    const { text } = await chair.visit(tills());
    expect(text).toContain("Lost: shut out");
    expect(text).not.toContain(`href="${path}"`);
  });

  test("are the chair's, and of this sale", async () => {
    const other = await buildSale(base.db, { name: "Spring sale" });
    const id = tillAt(0).id;
    for (const path of [`${tills()}/${id}/code`, `${tills()}/${id}/lost`])
      expect((await cashier.submit(path, { reason: "x" })).status).toBe(403);
    for (const path of [`/sales/${other.id}/tills/${id}/code`, `${tills()}/nonsense/code`])
      expect((await chair.submit(path)).status).toBe(404);
    expect((await chair.visit(`${tills()}/${id}/lost`)).status).toBe(404);
  });
});

describe("the PIN on the account page", () => {
  test("is set by a cashier and never shown again", async () => {
    expect((await cashier.visit("/account")).text).toContain("You have no PIN yet");
    const weak = await cashier.submit("/account/pin", { pin: "4321" });
    expect(weak.status).toBe(400);
    expect(weak.text).toContain("guessed too soon");
    expect(weak.text).not.toContain('value="4321"');
    expect((await cashier.submit("/account/pin", { pin: "4071" })).status).toBe(303);
    const { text } = await cashier.visit("/account");
    expect(text).toContain("You have a PIN");
    expect(text).not.toContain("4071");
  });

  test("is not offered to those who do not sell", async () => {
    const weaver = await signedIn(base, hall.weaver);
    expect((await weaver.visit("/account")).text).not.toContain("PIN for the till");
    expect((await weaver.submit("/account/pin", { pin: "4071" })).status).toBe(403);
  });

  test("is taken away on the member's page by the chair", async () => {
    await givePin(base, hall.cashier);
    const page = `/members/${hall.cashier.id}`;
    expect((await chair.visit(page)).text).toContain("Take the PIN away");
    expect((await cashier.submit(`${page}/pin/clear`)).status).toBe(403);
    expect((await chair.submit(`${page}/pin/clear`)).status).toBe(303);
    expect((await chair.visit(page)).text).not.toContain("Take the PIN away");
    expect((await chair.submit(`${page}/pin/clear`)).status).toBe(404);
  });
});
