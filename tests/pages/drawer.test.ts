import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { checkBooks } from "../../src/database/check-books.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildHall } from "../support/build-till.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";

let service: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let cashier: Client;
let treasurer: Client;
let member: Client;
beforeAll(async () => {
  service = await startApp();
  hall = await buildHall(service.db);
  cashier = await signedIn(service, hall.cashier);
  treasurer = await signedIn(service, hall.treasurer);
  member = await signedIn(service, hall.weaver);
});
afterAll(() => service.close());

const newTill = (number: number) =>
  service.db.till.create({ data: { saleId: hall.sale.id, number, name: "Door" } });
const moved = (tillSessionId: string) => service.db.cashMove.count({ where: { tillSessionId } });

test("a float is counted by notes and coins; the sum beside it has to fit", async () => {
  const till = await newTill(21);
  const path = `/till/${till.id}/open`;
  const page = await cashier.visit(`/till/${till.id}`).expect(200);
  expect(page.text).toContain('name="count.2000"');
  expect(page.text).toContain("Seldom seen notes and coins");
  const wrong = { "count.2000": "two", "count.25": "-1", float: "" };
  const refused = await cashier.submit(path, wrong).expect(400);
  for (const shown of ['id="e-count.2000"', 'id="e-count.25"', 'value="two"'])
    expect(refused.text).toContain(shown);
  expect(refused.text).not.toContain('id="e-float"');
  const off = await cashier.submit(path, { "count.2000": "2", float: "39.00" }).expect(400);
  expect(off.text).toContain('id="e-float"');
  await cashier.submit(path, { "count.2000": "2", "count.5": "1", float: "" }).expect(303);
  const row = await service.db.tillSession.findFirstOrThrow({ where: { tillId: till.id } });
  expect(row).toMatchObject({ float: 4_005n });
  expect(row.counts).toEqual([
    { value: 2_000, count: 2 },
    { value: 5, count: 1 },
  ]);
});

test("cash in and out is written down once and listed", async () => {
  const { id, sessionId } = hall.tills[0]!;
  const path = `/till/${id}/cash`;
  const page = await cashier.visit(path).expect(200);
  expect(page.text).toContain("Nothing moved yet");
  const moveId = /name="id" value="([^"]+)"/.exec(page.text)?.[1];
  const fields = { id: moveId, kind: "paid-out", "count.500": "1", amount: "", reason: "" };
  const refused = await cashier.submit(path, fields).expect(400);
  expect(refused.text).toContain('id="e-reason"');
  expect(refused.text).toContain(`value="${moveId}"`);
  const named = { ...fields, reason: "Sticky tape" };
  await cashier.submit(path, named).expect(303);
  // The same page sent twice, with a fresh form key: still one move.
  await cashier.submit(path, named).expect(303);
  expect(await moved(sessionId)).toBe(1);
  const listed = await treasurer.visit(path).expect(200);
  expect(listed.text).toContain("Sticky tape");
  expect(listed.text).toContain(`/books/${hall.sale.id}/drawers`);
  await member.visit(path).expect(403);
});

test("wrong moves are named and kept", async () => {
  const { id, sessionId } = hall.tills[0]!;
  const path = `/till/${id}/cash`;
  const good = { id: v7(), kind: "to-safe", amount: "1.00", reason: "" };
  const cases: [object, string][] = [
    [{ amount: "0" }, "amount"],
    [{ amount: "-5" }, "amount"],
    [{ amount: "1.005" }, "amount"],
    [{ amount: "" }, "amount"],
    [{ amount: "99999.00" }, "amount"],
    [{ kind: "gift" }, "kind"],
    [{ reason: "4111 1111 1111 1111" }, "reason"],
    [{ reason: "x".repeat(121) }, "reason"],
  ];
  for (const [change, field] of cases) {
    const refused = await cashier.submit(path, { ...good, ...change }).expect(400);
    expect(refused.text, field).toContain(`id="e-${field}"`);
  }
  expect(await moved(sessionId)).toBe(1);
  await cashier.submit(`/till/${v7()}/cash`, good).expect(404);
});

test("over the API: a move, its repeat, and a count that leaves the till open", async () => {
  const { id } = hall.tills[1]!;
  const path = `/api/tills/${id}/cash-moves`;
  const move = { id: v7(), kind: "to-safe", amount: 5_000, counts: [{ value: 5_000, count: 1 }] };
  expect((await cashier.post(path, move).expect(201)).body.recorded).toBe("now");
  expect((await cashier.post(path, move).expect(201)).body.recorded).toBe("before");
  await cashier.post(path, { ...move, amount: 10, counts: [] }).expect(422);
  for (const wrong of [{ amount: 0 }, { amount: 1.5 }, { id: "one" }, { kind: "x" }])
    await cashier.post(path, { ...move, ...wrong }).expect(400);
  const list = await treasurer.get(path).expect(200);
  expect(list.body.items).toMatchObject([{ id: move.id, amount: 5_000, kind: "to-safe" }]);
  const count = { counted: 4_000, witness: "Second Counter" };
  const first = await cashier.post(`/api/tills/${id}/counts`, count).expect(201);
  expect(first.body).toMatchObject({ closed: false, expected: 5_000, difference: -1_000 });
  const second = await cashier.post(`/api/tills/${id}/counts`, { ...count, counted: 5_000 });
  expect(second.body).toMatchObject({ closed: true, difference: 0 });
  await member.post(path, move).expect(403);
});

test("the second count closes the till; its sheet and slip read the same at each reprint", async () => {
  const { id } = hall.tills[0]!;
  const path = `/till/${id}/cash-up`;
  const people = { witness: "Second Counter", note: "" };
  await cashier.submit(path, { "count.2000": "4", counted: "", ...people }).expect(303);
  const again = await cashier.visit(`${path}?again=1`).expect(200);
  expect(again.text).toContain("This is the second count");
  const fields = { "count.2000": "4", "count.500": "3", counted: "", ...people };
  const done = await cashier.submit(path, fields).expect(303);
  const place = done.headers.location!;
  const shown = await treasurer.visit(place).expect(200);
  expect(shown.text).toContain("exactly what it should");
  expect(shown.text).toContain("Counted before: $80.00");
  const sheet = await treasurer.visit(`${place}/sheet.pdf`).expect(200);
  const reprint = await cashier.visit(`${place}/sheet.pdf`).expect(200);
  expect(Buffer.compare(sheet.body, reprint.body)).toBe(0);
  const words = await wordsOf((await pagesOf(sheet.body))[0]!);
  for (const text of ["Closing sheet", "Sticky tape", "Expected $95.00", "$20.00 4 $80.00"])
    expect(words).toContain(text);
  const slip = await treasurer.visit(`${place}/deposit.pdf?keep=40`).expect(200);
  expect(await wordsOf((await pagesOf(slip.body))[0]!)).toContain("Deposit $55.00");
  for (const keep of ["95.01", "some", "-1"]) {
    const refused = await treasurer.visit(`${place}/deposit.pdf?keep=${keep}`).expect(400);
    expect(refused.text).toContain('id="e-keep"');
  }
  await treasurer.visit(`/cash-ups/${v7()}/sheet.pdf`).expect(404);
  const drawers = await treasurer.visit(`/books/${hall.sale.id}/drawers`).expect(200);
  expect(drawers.text).toContain(place);
  expect((await checkBooks(service.db)).sound).toBe(true);
});
