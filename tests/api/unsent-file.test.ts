import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { cashUp } from "../../src/actions/cash-up.ts";
import { markTillLost } from "../../src/actions/mark-till-lost.ts";
import { openTill } from "../../src/actions/open-till.ts";
import { unsentFile } from "../../src/browser/till/keep/unsent-file.ts";
import type { OutboxEntry, ReceiptFact } from "../../src/contract/till-fact.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { deedOf } from "../support/build.ts";
import { done } from "../support/build-settlement.ts";
import { buildHall, buildPieces, expectBooks } from "../support/build-till.ts";
import { deviceOf, type Hall } from "../support/till-device.ts";
import { lineOf, saleFact, untagged } from "../support/till-facts.ts";

let base: TestApp;
let hall: Hall;
let treasurer: Client;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 3);
  treasurer = await signedIn(base, hall.treasurer);
});
afterAll(() => base.close());

const now = () => new Date().toISOString();
const tillAt = (index: number) => hall.tills[index] as Hall["tills"][number];
const path = () => `/sales/${hall.sale.id}/unsent`;
const entry = (body: ReceiptFact): OutboxEntry => ({ what: "receipt", body });
/** The file as the till's own page makes it. */
const fileOf = async (till: Hall["tills"][number], entries: OutboxEntry[]) =>
  (await unsentFile(till, entries, new Date())).text;
const bring = async (text: string) => treasurer.post(`/api${path()}`, JSON.parse(text) as object);

test("a till's file is recorded in order, once, whoever was quicker", async () => {
  const till = tillAt(0);
  const device = await deviceOf(base, hall, till);
  const [scarf] = await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 900 }]);
  const facts = [
    saleFact(hall, till, 1, [lineOf(scarf!)]),
    saleFact(hall, till, 2, [untagged(500)]),
  ];
  const text = await fileOf(till, [
    ...facts.map(entry),
    {
      what: "receipt-mail",
      body: { id: v7(), receiptId: facts[0]!.id, address: "buyer@example.org", madeAt: now() },
    },
  ]);
  await device
    .post("/api/till/outbox", { entries: [entry(facts[0]!)] }, { "sec-fetch-site": "same-origin" })
    .expect(200);
  const both = await Promise.all([bring(text), bring(text)]);
  for (const { status, body } of both)
    expect([status, body.recorded + body.before, body.waiting]).toEqual([200, 3, 0]);
  const receipts = await base.db.receipt.findMany({ where: { tillId: till.id } });
  expect(receipts.map(({ id }) => id).sort()).toEqual(facts.map(({ id }) => id).sort());
  expect((await bring(text)).body).toMatchObject({ tillNumber: 1, recorded: 0, before: 3 });
  const audits = await base.db.audit.findMany({ where: { deed: "import-unsent" } });
  expect(audits.map(({ byId }) => byId)).toEqual(Array(3).fill(hall.treasurer.id));
  expect(JSON.stringify(audits.map(({ detail }) => detail))).not.toContain("buyer@example.org");
  await expectBooks(base.db);
});

test("what is damaged, strange or another sale's is told, and nothing of it is recorded", async () => {
  const till = tillAt(1);
  await deviceOf(base, hall, till);
  const text = await fileOf(till, [entry(saleFact(hall, till, 1, [untagged(700)]))]);
  const file = JSON.parse(text) as { entries: string; till: object };
  const send = (changed: object) => treasurer.post(`/api${path()}`, { ...file, ...changed });
  const cheaper = file.entries.replaceAll("700", "100");
  for (const changed of [{ entries: cheaper }, { entries: file.entries.slice(0, -9) }]) {
    const { status, body } = await send(changed);
    expect([status, body.errors[0].field]).toEqual([400, "file"]);
    expect(body.errors[0].message).toContain("damaged");
  }
  const odd = await unsentFile(till, [{ what: "receipt" } as OutboxEntry], new Date());
  expect((await bring(odd.text)).body.errors[0].message).toContain("damaged");
  const foreign = await send({ till: { id: v7(), number: 8, name: "x" } });
  expect(foreign.body.errors[0].message).toContain("another sale");
  expect((await send({ format: "thrumbook-other" })).status).toBe(400);
  expect(await base.db.receipt.count({ where: { tillId: till.id } })).toBe(0);
});

test("the page takes the file, says what became of it, and keeps strangers out", async () => {
  const till = tillAt(1);
  const fact = saleFact(hall, till, 1, [untagged(600)]);
  const gap = saleFact(hall, till, 3, [untagged(600)]);
  const send = (content: string) => treasurer.upload(path(), {}, Buffer.from(content));
  const none = await send("");
  expect([none.status, none.text.includes("Choose the file")]).toEqual([400, true]);
  const other = await send("name,e-mail");
  expect(other.text).toContain("This is not a file that a till saved");
  const { status, text } = await send(await fileOf(till, [fact, gap].map(entry)));
  expect(status).toBe(200);
  expect(text).toContain("Till 2: 1 entry is recorded.");
  expect(text).toContain("1 could not be taken yet. Receipt 2-0003 is kept on the till");
  expect((await send(await fileOf(till, [entry(fact)]))).text).toContain(
    "everything in the file was here already",
  );
  const cashier = await signedIn(base, hall.cashier);
  expect((await cashier.visit(path())).status).toBe(403);
});

test("receipts that come after their drawer was counted stand in the one that is open then", async () => {
  const till = tillAt(2);
  await deviceOf(base, hall, till);
  const text = await fileOf(till, [entry(saleFact(hall, till, 1, [untagged(1_000)]))]);
  const deed = () => deedOf(base.db, hall.chair);
  done(
    await markTillLost(deed(), { saleId: hall.sale.id, tillId: till.id, reason: "Will not start" }),
  );
  const counted = { tillId: till.id, counted: 11_083, witness: "Ada Loom", note: "" };
  done(await cashUp(deed(), counted));
  const shut = await bring(text);
  expect(shut.body).toMatchObject({ recorded: 0, waiting: 1 });
  expect(shut.body.why).toContain("Open the till again");
  done(await openTill(deed(), { tillId: till.id, float: 0 }));
  expect((await bring(text)).body).toMatchObject({ recorded: 1, waiting: 0 });
  const notes = await base.db.discrepancy.findMany({ where: { kind: "after-cash-up" } });
  expect(notes).toHaveLength(1);
  // Over by this sale at the first count, short by it at the second: together nothing is missing.
  done(await cashUp(deed(), { ...counted, counted: 0 }));
  const ups = await base.db.cashUp.findMany({ where: { tillSession: { tillId: till.id } } });
  expect(ups.reduce((sum, { difference }) => sum + difference, 0n)).toBe(0n);
  await expectBooks(base.db);
});
