import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { checkBooks } from "../../src/database/check-books.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { deviceOf, type Hall } from "../support/till-device.ts";
import { lineOf, saleFact, untagged } from "../support/till-facts.ts";

let base: TestApp;
let hall: Hall;
let till: Awaited<ReturnType<typeof deviceOf>>;
let treasurer: Client;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 3);
  till = await deviceOf(base, hall, hall.tills[0]!);
  treasurer = await signedIn(base, hall.treasurer);
});
afterAll(() => base.close());

let number = 0;
const json = { "sec-fetch-site": "same-origin" };
const receipt = (body: object) => ({ what: "receipt", body });
const send = (entries: object[]) => till.post("/api/till/outbox", { entries }, json);
const sale = (lines: Parameters<typeof saleFact>[3]) =>
  saleFact(hall, hall.tills[0]!, ++number, lines);

test("entries are recorded in order; sent again they are there already", async () => {
  const pieces = await buildPieces(base.db, hall.sale, hall.weaver, [
    { price: 900 },
    { price: 800 },
  ]);
  const facts = pieces.map((piece) => sale([lineOf(piece)]));
  const answer = await send(facts.map(receipt)).expect(200);
  expect(answer.body).toEqual({
    answers: facts.map(({ id }) => ({ id, recorded: "now", notes: [] })),
  });
  const again = await send(facts.map(receipt)).expect(200);
  expect(again.body.answers.map((one: { recorded: string }) => one.recorded)).toEqual([
    "before",
    "before",
  ]);
});

test("an entry out of order stops the list and says why; the earlier ones are in", async () => {
  const first = sale([untagged(100)]);
  const later = { ...sale([untagged(200)]), number: number + 5 };
  number -= 1;
  const answer = await send([receipt(first), receipt(later)]).expect(200);
  expect(answer.body.answers).toMatchObject([{ id: first.id }]);
  expect(answer.body.problem.code).toBe("out-of-order");
});

test("cash that went to the safe is booked once, also when the drawer seemed emptier", async () => {
  const body = {
    ...{ id: v7(), madeAt: new Date().toISOString(), tillSessionId: hall.tills[0]!.sessionId },
    ...{ cashierId: hall.cashier.id, kind: "to-safe", amount: 900_000, counts: [], reason: "" },
  };
  const entry = { what: "cash-move", body };
  const answer = await send([entry]).expect(200);
  expect(answer.body.answers).toEqual([
    { id: body.id, recorded: "now", notes: ["drawer-below-zero"] },
  ]);
  const again = await send([entry]).expect(200);
  expect(again.body.answers).toMatchObject([{ id: body.id, recorded: "before" }]);
  const booked = await base.db.posting.findMany({ where: { accountKey: "safe" } });
  expect(booked.map(({ amount }) => amount)).toEqual([900_000n]);
});

test("what cannot be an entry is refused whole and named; a stranger is no till", async () => {
  const fact = sale([untagged(100)]);
  number -= 1;
  const wrong = await send([receipt({ ...fact, number: 0 })]).expect(400);
  expect(wrong.body.errors[0].field).toContain("number");
  const card = await send([receipt({ ...fact, reason: "4111 1111 1111 1111" })]).expect(400);
  expect(card.body.errors[0].message).toMatch(/card number/);
  await treasurer.post("/api/till/outbox", { entries: [receipt(fact)] }).expect(401);
});

test("a till whose clock is wrong as it sends is noted for the treasurer, and sells", async () => {
  const clock = new Date(Date.now() + 3 * 3_600_000).toISOString();
  const says = { ...json, "x-till-status": JSON.stringify({ unsent: 1, lastNumber: 1, clock }) };
  const entries = [receipt(sale([untagged(100)]))];
  const answer = await till.post("/api/till/outbox", { entries }, says).expect(200);
  expect(answer.body.answers).toMatchObject([{ recorded: "now", notes: ["clock-off"] }]);
  const page = await treasurer.get(`/books/${hall.sale.id}`).expect(200);
  expect(page.text).toContain("clock was wrong by more than two minutes");
});

test("a till finds another till's receipt by its number, with what came back of it", async () => {
  const found = await till.get("/api/till/receipts/1-0001").expect(200);
  expect(found.body).toMatchObject({ name: "1-0001", fact: { number: 1, kind: "sale" } });
  expect(Object.values(found.body.returned)).toEqual([0]);
  await till.get("/api/till/receipts/1-9999").expect(404);
  await till.get("/api/till/receipts/nonsense").expect(404);
});

test("the treasurer sees what is in suspense and says whose it is", async () => {
  const fact = sale([untagged(4_200, hall.weaver.number)]);
  await send([receipt(fact)]).expect(200);
  const list = await treasurer.get(`/api/sales/${hall.sale.id}/suspense`).expect(200);
  const line = list.body.items.find((one: { amount: number }) => one.amount === 4_200);
  expect(line).toMatchObject({
    memberNumber: hall.weaver.number,
    description: "Runner without a tag",
  });
  const path = `/api/suspense/${line.id}/owner`;
  const wrong = await treasurer
    .post(path, { owner: "member", member: 9_998, reason: "?" })
    .expect(400);
  expect(wrong.body.errors[0].field).toBe("member");
  const owner = { owner: "member", member: hall.weaver.number, reason: "She knew it" };
  await treasurer.post(path, owner).expect(201);
  await treasurer.post(path, owner).expect(409);
  const page = await treasurer.get(`/books/${hall.sale.id}/suspense`).expect(200);
  expect(page.text).not.toContain(line.id);
  expect((await checkBooks(base.db)).sound).toBe(true);
});
