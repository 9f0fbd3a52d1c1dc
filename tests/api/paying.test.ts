import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readXml } from "../rules/paying/xml-reader.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildOwed, ibans, type Owed, typeBank } from "../support/build-paying.ts";
import { faultsOf } from "../support/payment-message.ts";
import { pagesOf } from "../support/pdf.ts";

let base: TestApp;
let owed: Owed;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  owed = await buildOwed(base.db);
  treasurer = await signedIn(base, owed.treasurer);
  weaver = await signedIn(base, owed.weaver);
});
afterAll(() => base.close());

const body = (more: object = {}) => ({
  ...{
    method: "cheque",
    statementIds: [owed.mine, owed.theirs],
    day: "2026-12-05",
    firstCheque: "1001",
  },
  ...more,
});

describe("paying runs by API", () => {
  let path: string;

  test("tell whom there is to pay, by pages", async () => {
    const first = await treasurer.get("/api/paying-runs/to-prepare?limit=1&method=cheque");
    expect(first.body.items).toMatchObject([
      { statementId: owed.mine, amount: 6_798, hasAccount: false },
    ]);
    const second = await treasurer.get(
      `/api/paying-runs/to-prepare?limit=1&after=${first.body.next}`,
    );
    expect(second.body).toMatchObject({ items: [{ statementId: owed.theirs }], next: null });
    expect((await treasurer.get(`/api/paying-runs/to-prepare?saleId=${v7()}`)).body.items).toEqual(
      [],
    );
    expect((await weaver.get("/api/paying-runs/to-prepare")).status).toBe(403);
  });

  test("are prepared once for a key", async () => {
    const key = v7();
    const done = await treasurer.post("/api/paying-runs", body(), key);
    expect(done.body).toMatchObject({ number: 1, payments: 2, total: 9_464 });
    expect((await treasurer.post("/api/paying-runs", body(), key)).body).toEqual(done.body);
    expect((await treasurer.post("/api/paying-runs", body())).status).toBe(409);
    path = `/api/paying-runs/${done.body.runId}`;
  });

  test.each([
    [{ statementIds: [] }],
    [{ statementIds: ["x"] }],
    [{ day: "5 December" }],
    [{ method: "gold" }],
    [{ firstCheque: null }],
    [{ extra: 1 }],
  ])("refuse %j", async (more) => {
    expect((await treasurer.post("/api/paying-runs", body(more))).status).toBe(400);
  });

  test("are read whole, with the end of an account alone", async () => {
    const { body: run } = await treasurer.get(path);
    expect(run).toMatchObject({ number: 1, method: "cheque", day: "2026-12-05", currency: "USD" });
    expect(run.items.map((item: { reference: string }) => item.reference)).toEqual([
      "1001",
      "1002",
    ]);
    const list = await treasurer.get("/api/paying-runs");
    expect(list.body.items).toMatchObject([{ number: 1, payments: 2, waiting: 2, total: 9_464 }]);
    expect((await treasurer.get(`/api/paying-runs/${v7()}`)).status).toBe(404);
    expect((await weaver.get(path)).status).toBe(403);
  });

  test("are paid one by one and dropped, each once", async () => {
    const one = { positions: [1], paidOn: "2026-12-05" };
    const paid = await treasurer.post(`${path}/payments`, one);
    expect([paid.status, paid.body.total]).toEqual([201, 6_798]);
    expect((await treasurer.post(`${path}/payments`, one)).status).toBe(409);
    const dropped = await treasurer.post(`${path}/drops`, { reason: "Spoilt" });
    expect(dropped.body).toMatchObject({ payments: 1, total: 2_666 });
    expect((await treasurer.post(`${path}/drops`, { reason: "" })).status).toBe(400);
    expect((await treasurer.post(`/api/paying-runs/${v7()}/drops`, { reason: "x" })).status).toBe(
      404,
    );
  });

  test("give their files, and no others", async () => {
    const list = await treasurer.get(`${path}/cheques.pdf`).buffer(true);
    expect(await pagesOf(list.body)).toHaveLength(1);
    for (const name of ["signatures.pdf", "transfers.csv", "transfers.xml"])
      expect((await treasurer.get(`${path}/${name}`)).status).toBe(404);
  });

  test("name each account that keeps the bank's message from being written", async () => {
    await typeBank(base.db, owed.other, { account: "12-34" });
    const transfer = body({ method: "transfer", statementIds: [owed.theirs], firstCheque: "" });
    const done = await treasurer.post("/api/paying-runs", transfer);
    const at = `/api/paying-runs/${done.body.runId}`;
    const refused = await treasurer.get(`${at}/transfers.xml`);
    const fields = refused.body.errors.map(({ field }: { field: string }) => field);
    expect([refused.status, fields]).toEqual([400, ["payer.account", "transfers.0.account"]]);
    expect((await treasurer.get(`${at}/transfers.csv`)).text).toContain("12-34");
    await treasurer.post(`${at}/drops`, { reason: "To mend the account" });
    await typeBank(base.db, owed.other, { version: 1, account: ibans.german });
    const payer = {
      version: 1,
      name: "",
      account: ibans.french,
      bank: "",
      remindFirst: 30,
      remindAgain: 60,
    };
    expect((await treasurer.put("/api/paying-settings", payer)).status).toBe(200);
    const again = await treasurer.post("/api/paying-runs", transfer);
    const sent = await treasurer
      .get(`/api/paying-runs/${again.body.runId}/transfers.xml`)
      .buffer(true);
    expect(faultsOf(readXml(sent.text ?? String(sent.body)))).toEqual([]);
  });
});

test("what waits is told with its age, and reminders are recorded once", async () => {
  const { body: list } = await treasurer.get("/api/unclaimed");
  expect(list.items).toMatchObject([
    {
      statementId: owed.theirs,
      amount: 2_666,
      days: 0,
      runNumber: 3,
      reminded: [],
      reminderDue: null,
    },
  ]);
  const path = `/api/statements/${owed.theirs}/reminders`;
  const key = v7();
  const done = await treasurer.post(path, { number: 1 }, key);
  expect(done.body).toEqual({ statementId: owed.theirs, number: 1 });
  expect((await treasurer.post(path, { number: 1 }, key)).body).toEqual(done.body);
  expect((await treasurer.post(path, { number: 1 })).status).toBe(409);
  expect((await weaver.post(path, { number: 2 })).status).toBe(403);
  const letter = await treasurer.get(`/api/statements/${owed.theirs}/letter.pdf`).buffer(true);
  expect(await pagesOf(letter.body)).toHaveLength(1);
  expect((await treasurer.get(`/api/statements/${owed.mine}/letter.pdf`)).status).toBe(404);
});
