import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildHall, buildPieces, expectBooks, receiptFor } from "../support/build-till.ts";
import { deviceOf } from "../support/till-device.ts";

let service: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let cashier: Client;
let member: Client;
let treasurer: Client;
beforeAll(async () => {
  service = await startApp();
  hall = await buildHall(service.db);
  cashier = await signedIn(service, hall.cashier);
  member = await signedIn(service, hall.weaver);
  treasurer = await signedIn(service, hall.treasurer);
});
afterAll(() => service.close());

const pieces = (...wanted: Parameters<typeof buildPieces>[3]) =>
  buildPieces(service.db, hall.sale, hall.weaver, wanted);

async function sell(wanted: Parameters<typeof buildPieces>[3], quantity = 1) {
  const lines = (await pieces(...wanted)).map((piece) => ({ piece, quantity }));
  const receipt = receiptFor(hall.tills[0]!, lines);
  await cashier.post(`/api/sales/${hall.sale.id}/receipts`, receipt).expect(201);
  return receipt;
}

const newTill = async (number: number) =>
  service.db.till.create({ data: { saleId: hall.sale.id, number, name: "Door" } });

test("lists the tills and says of an open one on which device it sells", async () => {
  const list = await cashier.visit("/till").expect(200);
  expect(list.text).toContain("Go to till 1");
  const path = `/till/${hall.tills[1]!.id}`;
  const page = await cashier.visit(path).expect(200);
  expect(page.text).toContain("No device yet");
  expect(page.text).toContain('href="/till/"');
  await deviceOf(service, hall, hall.tills[1]!);
  const enrolled = await cashier.visit(path).expect(200);
  expect(enrolled.text).toContain("Grey laptop");
  expect(enrolled.text).not.toContain("No device yet");
  await member.visit("/till").expect(403);
  await cashier.visit(`/till/${v7()}`).expect(404);
  await cashier.visit("/till/one").expect(404);
});

test("the cookie alone sells nothing: the form token has to come with it", async () => {
  const [scarf] = await pieces({ price: 500 });
  const receipt = receiptFor(hall.tills[0]!, [scarf!]);
  const path = `/api/sales/${hall.sale.id}/receipts`;
  const send = (token: string) =>
    fetch(`http://127.0.0.1:${(service.app.server.address() as { port: number }).port}${path}`, {
      method: "POST",
      headers: {
        cookie: cashier.cookie,
        "content-type": "application/json",
        "x-form-token": token,
      },
      body: JSON.stringify(receipt),
    });
  expect((await send("made up")).status).toBe(403);
  expect((await send(cashier.csrf)).status).toBe(201);
});

test("opens a till; a wrong float is named and kept, a second opening changes nothing", async () => {
  const till = await newTill(11);
  const path = `/till/${till.id}/open`;
  for (const float of ["", "-5", "12.345", "a lot", "9".repeat(39)]) {
    const refused = await cashier.submit(path, { float }).expect(400);
    expect(refused.text).toContain('id="e-float"');
    expect(refused.text).toContain(`value="${float}"`);
  }
  await cashier.submit(path, { float: "50.00" }).expect(303);
  await cashier.submit(path, { float: "70.00" }).expect(303);
  const sessions = await service.db.tillSession.findMany({ where: { tillId: till.id } });
  expect(sessions.map(({ float }) => Number(float))).toEqual([5_000]);
  await member.submit(path, { float: "1" }).expect(403);
});

test("cash-up shows the expected sum only after the count", async () => {
  const till = await newTill(12);
  await cashier.submit(`/till/${till.id}/open`, { float: "80" });
  const path = `/till/${till.id}/cash-up`;
  const asked = await cashier.visit(path).expect(200);
  expect(asked.text).not.toContain("$80.00");
  const both = await cashier.submit(path, { counted: "eighty", witness: "" }).expect(400);
  expect(both.text).toContain('id="e-counted"');
  expect(both.text).toContain('id="e-witness"');
  expect(both.text).toContain('value="eighty"');
  const key = v7();
  const fields = { counted: "79.50", witness: "Second Counter", note: "a coin rolled away" };
  await cashier.submit(path, fields, key).expect(303);
  const differs = await cashier.visit(path).expect(200);
  expect(differs.text).toContain("$0.50 less than it should");
  expect(differs.text).toContain("Count again");
  const done = await cashier.submit(`${path}/as-counted`, {}, v7()).expect(303);
  const shown = await treasurer.visit(done.headers.location!).expect(200);
  expect(shown.text).toContain("$0.50 less than it should");
  expect(shown.text).toContain("and Second Counter");
  expect((await cashier.visit(path)).text).toContain("nothing to count");
  await cashier.visit(`/cash-ups/${v7()}`).expect(404);
});

test("finds receipts and shows one on screen and paper", async () => {
  const receipt = await sell([{ price: 4_200 }]);
  const list = await treasurer.visit(`/till/${hall.tills[0]!.id}/receipts`).expect(200);
  expect(list.text).toContain(`/receipts/${receipt.id}`);
  const byTag = await cashier.visit(
    `/till/${hall.tills[1]!.id}/receipts?q=${receipt.lines[0]!.tag}`,
  );
  expect(byTag.text).toContain(`/receipts/${receipt.id}`);
  const none = await cashier.visit(`/till/${hall.tills[0]!.id}/receipts?q=9-9999`);
  expect(none.text).toContain("No receipt found");
  const page = await cashier.visit(`/receipts/${receipt.id}`).expect(200);
  expect(page.text).toContain("$45.47");
  expect(page.text).toContain("Call the receipt off");
  expect((await treasurer.visit(`/receipts/${receipt.id}`)).text).not.toContain("Call the receipt");
  const paper = await cashier.visit(`/receipts/${receipt.id}/pdf`).expect(200);
  expect(paper.headers["content-type"]).toBe("application/pdf");
  await member.visit(`/receipts/${receipt.id}`).expect(403);
  await cashier.visit(`/receipts/${v7()}`).expect(404);
  await cashier.visit("/receipts/none").expect(404);
});

test("calls a receipt off with a reason, once", async () => {
  const receipt = await sell([{ price: 4_200 }]);
  const path = `/receipts/${receipt.id}/void`;
  expect((await cashier.visit(path)).text).toContain("The piece goes back on the floor");
  const refused = await cashier.submit(path, { reason: " " }).expect(400);
  expect(refused.text).toContain('id="e-reason"');
  await cashier.submit(path, { reason: "typed the wrong tag" }).expect(303);
  const late = await cashier.submit(path, { reason: "again" }).expect(409);
  expect(late.text).toContain("This receipt was called off");
  const page = await cashier.visit(`/receipts/${receipt.id}`);
  expect(page.text).toContain("It was called off with");
  expect(page.text).not.toContain("Take pieces back");
});

test("takes part of a stack back; wrong numbers are named and kept", async () => {
  const receipt = await sell([{ price: 1_000, quantity: 3 }, { price: 500 }], 1);
  const path = `/receipts/${receipt.id}/return`;
  const page = await cashier.visit(path).expect(200);
  expect(page.text).toContain("back.1");
  const fields = { kind: "cash", tillId: hall.tills[0]!.id, reason: "too short", reference: "" };
  const missing = await cashier.submit(path, { ...fields, reason: "" }).expect(400);
  expect(missing.text).toContain('id="e-back.1"');
  expect(missing.text).toContain('id="e-reason"');
  for (const wrong of ["two", "1.5", "-1", "2"]) {
    const refused = await cashier.submit(path, { ...fields, "back.1": wrong }).expect(400);
    expect(refused.text).toContain('id="e-back.1"');
  }
  const card = { "back.1": "1", kind: "card", reference: "4111111111111111" };
  const number = await cashier.submit(path, { ...fields, ...card }).expect(400);
  expect(number.text).toContain('id="e-reference"');
  const done = await cashier.submit(path, { ...fields, "back.1": "1" }).expect(303);
  const shown = await cashier.visit(done.headers.location!).expect(200);
  expect(shown.text).toContain("Return");
  expect(shown.text).toContain("too short");
  expect((await cashier.visit(path)).text).toContain("has come back already");
  expect(await expectBooks(service.db)).toEqual({ ledger: 0, pieces: 0 });
});

test("after selling, a till only takes back", async () => {
  await service.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "settling" } });
  const page = await cashier.visit(`/till/${hall.tills[0]!.id}`).expect(200);
  expect(page.text).toContain("Returns only");
  await service.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "closed" } });
  expect((await cashier.visit("/till")).text).toContain("No till can be used now");
});
