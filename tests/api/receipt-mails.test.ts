import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildHall } from "../support/build-till.ts";
import { type MailServer, startMailServer, toOf } from "../support/mail-server.ts";
import { deviceOf, type Hall } from "../support/till-device.ts";
import { saleFact, untagged } from "../support/till-facts.ts";

const buyer = "buyer@example.org";
let base: TestApp;
let bare: TestApp;
let hall: Hall;
let server: MailServer;
let till: Awaited<ReturnType<typeof deviceOf>>;
let cashier: Client;
let treasurer: Client;
beforeAll(async () => {
  server = await startMailServer();
  base = await startApp({ SMTP_URL: server.url, MAIL_FROM: "sale@example.org" });
  bare = await startApp();
  hall = await buildHall(base.db, 2);
  till = await deviceOf(base, hall, hall.tills[0]!);
  cashier = await signedIn(base, hall.cashier);
  treasurer = await signedIn(base, hall.treasurer);
});
afterAll(async () => {
  await base.close();
  await bare.close();
  await server.stop();
});

let number = 0;
const json = { "sec-fetch-site": "same-origin" };
const send = (entries: object[]) => till.post("/api/till/outbox", { entries }, json);
const sale = () => saleFact(hall, hall.tills[0]!, ++number, [untagged(4_200)]);
const wishFor = (receiptId: string, address = buyer) => ({
  what: "receipt-mail",
  body: { id: v7(), receiptId, address, madeAt: new Date().toISOString() },
});
const ended = (id: string) =>
  vi.waitFor(
    async () => {
      const row = await base.db.receiptMail.findUniqueOrThrow({ where: { id } });
      expect(row.endedAt).not.toBeNull();
      return row;
    },
    { timeout: 20_000 },
  );

test("a till sends a sale and the wish behind it, and the buyer has the receipt", async () => {
  const fact = sale();
  const wish = wishFor(fact.id);
  const answer = await send([{ what: "receipt", body: fact }, wish]).expect(200);
  expect(answer.body.answers).toMatchObject([
    { id: fact.id, recorded: "now" },
    { id: wish.body.id, recorded: "now", notes: [] },
  ]);
  expect(await ended(wish.body.id)).toMatchObject({ state: "sent", address: null });
  await send([wish]).expect(200);
  await base.app.receiptMails.wake();
  expect(server.letters.map(toOf)).toEqual([buyer]);
});

test("a person sends it once by the API, however often the same id comes", async () => {
  const fact = sale();
  await send([{ what: "receipt", body: fact }]).expect(200);
  const before = server.letters.length;
  const body = { id: v7(), address: ` ${buyer} ` };
  const path = `/api/receipts/${fact.id}/mails`;
  const first = await cashier.post(path, body).expect(202);
  expect(first.body).toEqual({ id: body.id, recorded: "now" });
  await ended(body.id);
  expect((await cashier.post(path, body).expect(200)).body.recorded).toBe("before");
  await base.app.receiptMails.wake();
  expect(server.letters).toHaveLength(before + 1);
  expect(JSON.stringify(await base.db.keyedDeed.findMany())).not.toContain("buyer");
  await treasurer.post(path, { id: v7(), address: buyer }).expect(403);
  const nowhere = { id: v7(), address: buyer };
  await cashier.post(`/api/receipts/${v7()}/mails`, nowhere).expect(404);
});

test("a wrong address and a card number are refused at their field, and nothing is kept", async () => {
  const fact = sale();
  await send([{ what: "receipt", body: fact }]).expect(200);
  const rows = await base.db.receiptMail.count();
  const path = `/api/receipts/${fact.id}/mails`;
  const wrongOnes = [
    "",
    "buyer",
    "a@b",
    "a@b.example, c@d.example",
    "a@b.example\nBcc: c@d.example",
  ];
  for (const address of wrongOnes) {
    const refused = await cashier.post(path, { id: v7(), address }).expect(400);
    expect(refused.body.errors).toMatchObject([{ field: "address" }]);
  }
  for (const address of ["4111 1111 1111 1111", "4111111111111111@example.org"]) {
    const refused = await cashier.post(path, { id: v7(), address }).expect(400);
    expect(refused.body.errors[0]).toMatchObject({ field: "address" });
    expect(refused.body.errors[0].message).toMatch(/card number/);
    const byTill = await send([wishFor(fact.id, address)]).expect(400);
    expect(byTill.body.errors[0].field).toMatch(/address$/);
  }
  expect(await base.db.receiptMail.count()).toBe(rows);
});

test("the treasurer sees which receipts did not arrive, without an address", async () => {
  const fact = sale();
  server.refuse({ at: "address", code: 550, words: `No such person as ${buyer}` });
  const wish = wishFor(fact.id);
  await send([{ what: "receipt", body: fact }, wish]).expect(200);
  await ended(wish.body.id);
  server.refuse();
  const { text } = await treasurer.visit(`/books/${hall.sale.id}`).expect(200);
  expect(text).toContain("1 receipt did not reach a buyer by e-mail");
  expect(text).toContain(`Receipt 1-${String(number).padStart(4, "0")}</a>: The mail server does`);
  expect(text).not.toContain(buyer);
});

test("only a server that can send tells its tills so", async () => {
  expect((await till.get("/api/till/scene").expect(200)).body.mail).toBe(true);
  const other = await buildHall(bare.db, 1);
  const device = await deviceOf(bare, other, other.tills[0]!);
  expect((await device.get("/api/till/scene").expect(200)).body.mail).toBe(false);
  const person = await signedIn(bare, other.cashier);
  const body = { id: v7(), address: buyer };
  const refused = await person.post(`/api/receipts/${v7()}/mails`, body).expect(409);
  expect(refused.body.code).toBe("no-mail");
});
