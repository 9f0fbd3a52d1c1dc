import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildThreeSales } from "../support/build-three-sales.ts";

let base: TestApp;
let guild: Awaited<ReturnType<typeof buildThreeSales>>;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  guild = await buildThreeSales(base.db);
  treasurer = await signedIn(base, guild.treasurer);
  weaver = await signedIn(base, guild.weaver);
});
afterAll(() => base.close());

const sale = (part: string) => `/api/sales/${guild.selling.id}${part}`;
const year = new Date().getFullYear();
const reads = () => [
  ...["takings-report", "lines", "income-statement", "tax-worksheet", "banking", "deposits"].map(
    (part) => sale(`/${part}`),
  ),
  ...[sale("/card-totals"), "/api/payables", `/api/years/${year}/members`, "/api/report-threshold"],
  "/api/tax-worksheet?from=2026-01-01T00:00:00Z&to=2027-01-01T00:00:00Z",
];

test("the treasurer reads every figure, a member none, and unknown sales are not found", async () => {
  for (const path of reads()) {
    const { status, body } = await treasurer.get(path);
    expect([path, status]).toEqual([path, 200]);
    if ("agrees" in body) expect([path, body.agrees]).toEqual([path, true]);
    expect([path, (await weaver.get(path)).status]).toEqual([path, 403]);
    const other = path.replace(guild.selling.id, v7());
    if (other !== path) expect([path, (await treasurer.get(other)).status]).toEqual([path, 404]);
  }
});

test("lines are paged to the end, and come to what the takings say", async () => {
  const { body: report } = await treasurer.get(sale("/takings-report"));
  const [kind] = report.byKind;
  let after = "";
  let amount = 0;
  for (let page = 0; page < 20; page += 1) {
    const asked = `/lines?limit=2&kind=${kind.key}${after && `&after=${after}`}`;
    const { body } = await treasurer.get(sale(asked));
    for (const line of body.items) amount += line.amount;
    if (body.next === null) break;
    after = body.next;
  }
  expect(amount).toBe(kind.amount);
});

test("a deposit is recorded once for one key, and voided", async () => {
  const deposit = { source: "cheques", amount: 1_200, bankedOn: "2026-11-27" };
  const key = v7();
  const first = await treasurer.post(sale("/deposits"), deposit, key);
  const second = await treasurer.post(sale("/deposits"), deposit, key);
  expect([first.status, second.status, second.body]).toEqual([201, 201, first.body]);
  const { body } = await treasurer.get(sale("/deposits"));
  expect(body.items).toMatchObject([
    { ...{ source: "cheques", amount: 1_200 }, voidedBecause: null },
  ]);
  const path = `/api/deposits/${first.body.id}/void`;
  expect((await treasurer.post(path, { reason: "" })).status).toBe(400);
  expect((await weaver.post(path, { reason: "Mine" })).status).toBe(403);
  expect((await treasurer.post(path, { reason: "Another sale's" })).status).toBe(201);
  expect((await treasurer.post(path, { reason: "Another sale's" })).status).toBe(409);
  const wrong = await treasurer.post(sale("/deposits"), { ...deposit, amount: 0 });
  expect(wrong.body.errors).toMatchObject([{ field: "amount" }]);
});

test("a card total is recorded and voided; a fee above it is refused", async () => {
  const total = { day: "2026-11-27", gross: 5_000, fee: 145 };
  const made = await treasurer.post(sale("/card-totals"), total);
  expect(made.status).toBe(201);
  const wrong = await treasurer.post(sale("/card-totals"), { ...total, fee: 5_001 });
  expect([wrong.status, wrong.body.errors[0].field]).toEqual([400, "fee"]);
  expect((await treasurer.get(sale("/banking"))).body.card).toMatchObject({
    terminal: 5_000,
    fees: 145,
  });
  const path = `/api/card-totals/${made.body.id}/void`;
  expect((await treasurer.post(path, { reason: "Typed in twice" })).status).toBe(201);
  expect((await treasurer.get(sale("/card-totals"))).body.items[0].voidedBecause).toBe(
    "Typed in twice",
  );
});

test("the threshold is set against the version that was read", async () => {
  const { body } = await treasurer.get("/api/report-threshold");
  expect(body.amount).toBeNull();
  const wanted = { amount: 200_000, counts: "paid", from: "at", version: body.version };
  expect((await treasurer.put("/api/report-threshold", wanted)).body).toMatchObject({
    amount: 200_000,
  });
  expect((await treasurer.put("/api/report-threshold", wanted)).status).toBe(409);
  expect((await weaver.put("/api/report-threshold", wanted)).status).toBe(403);
  const { body: members } = await treasurer.get(`/api/years/${year}/members?limit=1`);
  expect(members.items).toMatchObject([{ toReport: false }]);
});
