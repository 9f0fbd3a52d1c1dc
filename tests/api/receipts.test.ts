import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { makeTag } from "../../src/rules/tag-number.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import {
  type BuiltPiece,
  buildHall,
  buildPieces,
  expectBooks,
  receiptFor,
} from "../support/build-till.ts";

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
const receiptsPath = () => `/api/sales/${hall.sale.id}/receipts`;
const lookUp = (tag: string, client = cashier) =>
  client.get(`/api/sales/${hall.sale.id}/till-items/${encodeURIComponent(tag)}`);

async function sell(piece: BuiltPiece, more: object = {}) {
  const receipt = receiptFor(hall.tills[0]!, [piece], more);
  await cashier.post(receiptsPath(), receipt).expect(201);
  return receipt;
}

test("looks a tag up: on the floor, sold and where, not checked in, unknown, misread", async () => {
  const [scarf, home] = await pieces({ price: 6_500 }, { price: 100, onFloor: 0 });
  const found = await lookUp(scarf!.tag).expect(200);
  expect(found.body).toMatchObject({
    tag: scarf!.tag,
    price: 6_500,
    onFloor: 1,
    donated: false,
    memberNumber: hall.weaver.number,
    state: "on-floor",
    sold: null,
  });
  expect(JSON.stringify(found.body)).not.toContain(hall.weaver.name);
  await sell(scarf!);
  expect((await lookUp(scarf!.tag)).body).toMatchObject({
    state: "sold",
    sold: { till: 1, receipt: expect.stringMatching(/^1-\d{4}$/), cashier: hall.cashier.name },
  });
  expect((await lookUp(home!.tag)).body).toMatchObject({ state: "not-checked-in" });
  const unknown = makeTag(999, 999, 8);
  if (!unknown.ok) throw new Error(unknown.problem.detail);
  await lookUp(unknown.value)
    .expect(404)
    .expect(/unknown-tag/);
  const misread = await lookUp(`${scarf!.tag.slice(0, 6)}00`).expect(400);
  expect(misread.body.code).toBe("wrong-check-digits");
  await lookUp("abc").expect(400);
  await lookUp("1".repeat(41)).expect(400);
  await lookUp(scarf!.tag, member).expect(403);
});

test.each([
  ["no lines", { lines: [] }, "lines"],
  ["a quantity of zero", { lines: [{ tag: "10000155", quantity: 0 }] }, "lines.0.quantity"],
  ["a negative quantity", { lines: [{ tag: "10000155", quantity: -1 }] }, "lines.0.quantity"],
  ["half a piece", { lines: [{ tag: "10000155", quantity: 1.5 }] }, "lines.0.quantity"],
  ["words for a quantity", { lines: [{ tag: "10000155", quantity: "two" }] }, "lines.0.quantity"],
  ["a tag of 41 characters", { lines: [{ tag: "1".repeat(41), quantity: 1 }] }, "lines.0.tag"],
  ["an empty tag", { lines: [{ tag: " ", quantity: 1 }] }, "lines.0.tag"],
  ["a price of one's own", { lines: [{ tag: "10000155", quantity: 1, unitPrice: 1 }] }, "lines.0"],
  ["no tenders", { tenders: [] }, "tenders"],
  ["an unknown tender", { tenders: [{ kind: "shells", amount: 5 }] }, "tenders.0.kind"],
  ["a tender of zero", { tenders: [{ kind: "cash", amount: 0 }] }, "tenders.0.amount"],
  ["a negative tender", { tenders: [{ kind: "cash", amount: -5 }] }, "tenders.0.amount"],
  ["a fraction of a cent", { tenders: [{ kind: "cash", amount: 10.5 }] }, "tenders.0.amount"],
  ["a huge tender", { tenders: [{ kind: "cash", amount: 9e15 }] }, "tenders.0.amount"],
  [
    "a card number",
    { tenders: [{ kind: "card", amount: 9, reference: "4111 1111 1111 1111" }] },
    "tenders.0.reference",
  ],
  [
    "a long reference",
    { tenders: [{ kind: "card", amount: 9, reference: "x".repeat(61) }] },
    "tenders.0.reference",
  ],
  [
    "a broken character",
    { tenders: [{ kind: "card", amount: 9, reference: "a\u0000b" }] },
    "tenders.0.reference",
  ],
  ["an id that is no UUID", { id: "1" }, "id"],
  ["a till that is no UUID", { tillId: "till 1" }, "tillId"],
  ["a total of zero", { total: 0 }, "total"],
])("refuses %s and names the field", async (_words, change, field) => {
  const before = await service.db.receipt.count();
  const base = receiptFor(hall.tills[0]!, [{ id: v7(), tag: "10000155", price: 100 }]);
  const answer = await cashier.post(receiptsPath(), { ...base, ...change }).expect(400);
  expect(answer.headers["content-type"]).toContain("application/problem+json");
  expect(answer.body.errors.map((error: { field: string }) => error.field)).toContain(field);
  expect(await service.db.receipt.count()).toBe(before);
});

test.each([13, 14, 15, 16, 17, 18, 19])("refuses a card number of %i digits", async (length) => {
  const digits = luhn("4".padEnd(length - 1, "1"));
  const [scarf] = await pieces({ price: 100 });
  const paid = { tenders: [{ kind: "card", amount: 108, reference: `ref ${digits}` }] };
  const answer = await cashier.post(receiptsPath(), receiptFor(hall.tills[0]!, [scarf!], paid));
  expect(answer.status).toBe(400);
  expect(answer.body.errors[0].field).toBe("tenders.0.reference");
  expect(JSON.stringify(answer.body)).not.toContain(digits);
});

/** Adds the digit that makes the Luhn sum a multiple of ten. */
function luhn(payload: string): string {
  const sum = [...payload].reverse().reduce((total, digit, index) => {
    const value = Number(digit) * (index % 2 === 0 ? 2 : 1);
    return total + (value > 9 ? value - 9 : value);
  }, 0);
  return `${payload}${(10 - (sum % 10)) % 10}`;
}

test("too little, too much by card, and cash twice are told at the tender", async () => {
  const [scarf] = await pieces({ price: 10_000 });
  const fieldOf = async (tenders: object[]) => {
    const body = receiptFor(hall.tills[0]!, [scarf!], { tenders });
    const answer = await cashier.post(receiptsPath(), body).expect(400);
    return answer.body.errors[0].field;
  };
  expect(await fieldOf([{ kind: "cash", amount: 10_000 }])).toBe("tenders.0.amount");
  expect(await fieldOf([{ kind: "card", amount: 20_000 }])).toBe("tenders.0.amount");
  const twice = { kind: "cash", amount: 6_000 };
  expect(await fieldOf([twice, twice])).toBe("tenders.1.kind");
});

test("only cashiers and the chair sell; an ended session sells nothing", async () => {
  const [scarf] = await pieces({ price: 400 });
  const body = receiptFor(hall.tills[0]!, [scarf!]);
  await member.post(receiptsPath(), body).expect(403);
  await treasurer.post(receiptsPath(), body).expect(403);
  const other = await signedIn(service, hall.cashier);
  await service.db.session.update({
    where: { id: other.sessionId },
    data: { endedAt: new Date() },
  });
  await other.post(receiptsPath(), body).expect(401);
  expect(await service.db.receipt.count({ where: { id: body.id } })).toBe(0);
});

test("an unknown sale and another sale's till are not found", async () => {
  const [scarf] = await pieces({ price: 400 });
  const body = receiptFor(hall.tills[0]!, [scarf!]);
  await cashier.post(`/api/sales/${v7()}/receipts`, body).expect(404);
  await cashier.post("/api/sales/autumn/receipts", body).expect(400);
});

test("reads receipts back: one, a page, a search, on paper", async () => {
  const [scarf, towel] = await pieces({ price: 700 }, { price: 800 });
  const first = await sell(scarf!);
  await sell(towel!);
  const one = await treasurer.get(`/api/receipts/${first.id}`).expect(200);
  expect(one.body).toMatchObject({
    kind: "sale",
    total: first.total,
    lines: [{ tag: scarf!.tag }],
  });
  const page = await cashier.get(`${receiptsPath()}?limit=1`).expect(200);
  expect(page.body.items).toHaveLength(1);
  const rest = await cashier.get(`${receiptsPath()}?limit=200&after=${page.body.next}`).expect(200);
  const ids = rest.body.items.map(({ id }: { id: string }) => id);
  expect(ids).toContain(first.id);
  expect(ids).not.toContain(page.body.items[0].id);
  for (const q of [scarf!.tag, one.body.name]) {
    const hit = await cashier.get(`${receiptsPath()}?q=${q}`).expect(200);
    expect(hit.body.items.map(({ id }: { id: string }) => id)).toEqual([first.id]);
  }
  const paper = await cashier.get(`/api/receipts/${first.id}/pdf`).expect(200);
  expect(paper.headers["content-type"]).toBe("application/pdf");
  expect(paper.body.subarray(0, 5).toString()).toBe("%PDF-");
  await cashier.get(`/api/receipts/${v7()}`).expect(404);
  await cashier.get(`/api/receipts/${v7()}/pdf`).expect(404);
  await member.get(`/api/receipts/${first.id}`).expect(403);
});

test("voids and takes back, with a reason, once for each key", async () => {
  const [scarf, towel] = await pieces({ price: 700 }, { price: 800 });
  const gone = await sell(scarf!);
  const path = `/api/receipts/${gone.id}/void`;
  for (const reason of ["", "x".repeat(201), 7])
    expect((await cashier.post(path, { reason }).expect(400)).body.errors[0].field).toBe("reason");
  await member.post(path, { reason: "no" }).expect(403);
  const key = v7();
  const done = await cashier.post(path, { reason: "wrong tag" }, key).expect(201);
  const again = await cashier.post(path, { reason: "wrong tag" }, key).expect(201);
  expect(again.body).toEqual(done.body);
  await cashier.post(path, { reason: "other" }, key).expect(422);
  await cashier.post(path, { reason: "wrong tag" }).expect(409);

  const kept = await sell(towel!);
  const read = await cashier.get(`/api/receipts/${kept.id}`);
  const lines = [{ lineId: read.body.lines[0].id, quantity: 1 }];
  const body = { tillId: hall.tills[0]!.id, lines, tender: { kind: "cash" }, reason: "torn" };
  const many = { ...body, lines: [{ ...lines[0], quantity: 2 }] };
  const refused = await cashier.post(`/api/receipts/${kept.id}/returns`, many).expect(400);
  expect(refused.body.errors[0].field).toBe("lines.0.quantity");
  const back = await cashier.post(`/api/receipts/${kept.id}/returns`, body).expect(201);
  expect(back.body.back).toBe(kept.total);
  await cashier.post(`/api/receipts/${v7()}/returns`, body).expect(404);
});

test("a till opens and is cashed up over the API", async () => {
  const till = await service.db.till.create({
    data: { saleId: hall.sale.id, number: 5, name: "Door" },
  });
  const sessions = `/api/tills/${till.id}/sessions`;
  for (const float of [-1, 0.5, "50", 9e15])
    expect((await cashier.post(sessions, { float }).expect(400)).body.errors[0].field).toBe(
      "float",
    );
  await cashier.post(sessions, { float: 5_000 }).expect(201);
  await cashier.post(sessions, { float: 5_000 }).expect(409);
  await cashier.post(`/api/tills/${v7()}/sessions`, { float: 0 }).expect(404);
  const counted = { counted: 5_010, witness: "Second Counter" };
  const path = `/api/tills/${till.id}/cash-up`;
  expect((await cashier.post(path, { counted: 1 }).expect(400)).body.errors[0].field).toBe(
    "witness",
  );
  const done = await treasurer.post(path, counted).expect(201);
  expect(done.body).toMatchObject({ expected: 5_000, counted: 5_010, difference: 10 });
  await treasurer.post(path, counted).expect(409);
});

test("the treasurer reads both versions of a receipt that differs", async () => {
  const [scarf, towel] = await pieces({ price: 700 }, { price: 800 });
  const kept = await sell(scarf!);
  const other = receiptFor(hall.tills[0]!, [towel!], { id: kept.id });
  await cashier.post(receiptsPath(), other).expect(422);
  const path = `/api/sales/${hall.sale.id}/discrepancies`;
  const list = await treasurer.get(path).expect(200);
  expect(list.body.items[0]).toMatchObject({ kind: "receipt-differs", receiptId: kept.id });
  await cashier.get(path).expect(403);
  expect(await expectBooks(service.db)).toEqual({ ledger: 0, pieces: 0 });
});
