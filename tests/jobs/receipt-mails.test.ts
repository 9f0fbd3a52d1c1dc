import { v7 } from "uuid";
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from "vitest";
import { recordFact } from "../../src/actions/record-fact.ts";
import { recordMailFact } from "../../src/actions/record-mail.ts";
import type { MailWorker } from "../../src/jobs/mail-queue.ts";
import { type MailWay, openMailWay } from "../../src/jobs/mail-way.ts";
import { startReceiptMails } from "../../src/jobs/receipt-mails.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { type MailServer, startMailServer, toOf } from "../support/mail-server.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";
import type { Hall } from "../support/till-device.ts";
import { lineOf, saleFact } from "../support/till-facts.ts";

const buyer = "buyer.canary@example.org";
const hour = 3_600_000;
let base: TestDatabase;
let hall: Hall;
let server: MailServer;
let number = 0;
let later = 0;
let faults: unknown[] = [];
const workers: MailWorker[] = [];
const way = (): MailWay => ({ url: server.url, from: "Our guild <sale@example.org>" });

beforeAll(async () => {
  // Without an app, whose own worker has no mail server and would give these messages up.
  base = await freshDatabase();
  hall = await buildHall(base.db);
  const device = { name: "Grey laptop", tokenHash: "t", enrolledById: hall.chair.id };
  await base.db.tillDevice.create({ data: { tillId: hall.tills[0]!.id, ...device } });
});
afterAll(() => base.drop());
beforeEach(async () => {
  server = await startMailServer();
  later = 0;
  faults = [];
});
afterEach(async () => {
  await Promise.all(workers.splice(0).map((one) => one.stop()));
  await server.stop();
  await base.db.receiptMail.deleteMany();
});

function worker(mailWay: MailWay | undefined = way()): MailWorker {
  const one = startReceiptMails({
    ...{ db: base.db, way: mailWay, now: () => new Date(Date.now() + 1_000 + later) },
    failed: (error) => faults.push(error),
  });
  workers.push(one);
  return one;
}

const from = () => ({
  ...{ db: base.db, tillId: hall.tills[0]!.id, saleId: hall.sale.id, requestId: "test" },
});

/** A sale of the first till whose buyer wants it by e-mail. */
async function wish() {
  const pieces = await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 4_500 }]);
  const fact = saleFact(hall, hall.tills[0]!, ++number, [lineOf(pieces[0]!)]);
  expect(await recordFact(from(), fact)).toMatchObject({ ok: true });
  const id = v7();
  const madeAt = new Date().toISOString();
  const wanted = { id, receiptId: fact.id, address: buyer, madeAt };
  const answer = await recordMailFact(from(), wanted);
  expect(answer).toEqual({ ok: true, value: { id, recorded: "now", notes: [] } });
  return wanted;
}

const rowOf = (id: string) => base.db.receiptMail.findUniqueOrThrow({ where: { id } });

test("a receipt goes out once, in words and as a PDF, and the address is gone", async () => {
  const { id } = await wish();
  expect(await rowOf(id)).toMatchObject({ state: "waiting", address: buyer });
  const mails = worker();
  await mails.wake();
  await mails.wake();
  expect(server.letters).toHaveLength(1);
  const letter = server.letters[0]!;
  const name = `1-${String(number).padStart(4, "0")}`;
  expect(toOf(letter)).toBe(buyer);
  expect(letter.from?.text).toBe('"Our guild" <sale@example.org>');
  expect(letter.subject).toContain(`Receipt ${name}`);
  expect(letter.text).toContain("Total: $48.71");
  expect(letter.messageId).toBe(`<${id}@example.org>`);
  const [paper, ...more] = letter.attachments;
  expect(more).toEqual([]);
  expect(paper).toMatchObject({ contentType: "application/pdf", filename: `receipt-${name}.pdf` });
  const [page] = await pagesOf(new Uint8Array(paper!.content));
  expect(await wordsOf(page!)).toContain(name);
  expect(await rowOf(id)).toMatchObject({ state: "sent", address: null, tries: 1, lastError: "" });
  expect((await rowOf(id)).endedAt).not.toBeNull();
  expect(faults).toEqual([]);
});

test("the same wish again, also after it went out, sends nothing more", async () => {
  const wanted = await wish();
  expect(await recordMailFact(from(), wanted)).toMatchObject({ value: { recorded: "before" } });
  const mails = worker();
  await mails.wake();
  expect(await recordMailFact(from(), wanted)).toMatchObject({ value: { recorded: "before" } });
  await mails.wake();
  expect(server.letters).toHaveLength(1);
  expect((await rowOf(wanted.id)).address).toBeNull();
});

test("two workers at once send each message once", async () => {
  for (let count = 0; count < 6; count += 1) await wish();
  await Promise.all([worker().wake(), worker().wake()]);
  expect(server.letters).toHaveLength(6);
  expect(new Set(server.letters.map(({ messageId }) => messageId)).size).toBe(6);
});

test("a mail server in trouble is tried again later, and what it says is not kept", async () => {
  const { id } = await wish();
  server.refuse({ at: "message", code: 451, words: `Not now for ${buyer}` });
  const mails = worker();
  await mails.wake();
  await mails.wake();
  const waiting = await rowOf(id);
  expect(waiting).toMatchObject({ state: "waiting", tries: 1, address: buyer });
  expect(waiting.lastError).toBe("The mail server did not take the message (451)");
  server.refuse();
  later = 30_000;
  await mails.wake();
  expect(server.letters).toHaveLength(0);
  later = 62_000;
  await mails.wake();
  expect(server.letters).toHaveLength(1);
  expect(await rowOf(id)).toMatchObject({ state: "sent", tries: 2, address: null, lastError: "" });
});

test("after a day of tries a message is given up and its address deleted", async () => {
  const { id } = await wish();
  await server.stop();
  const mails = worker();
  for (later = 0; later <= 25 * hour; later += hour / 2) await mails.wake();
  const row = await rowOf(id);
  expect(row).toMatchObject({ state: "failed", address: null });
  expect(row.lastError).toBe("The mail server could not be reached");
  expect(row.tries).toBeGreaterThan(20);
  expect(faults).toEqual([]);
  server = await startMailServer();
});

test("an address that the mail server refuses for good is given up at once", async () => {
  const { id } = await wish();
  server.refuse({ at: "address", code: 550, words: `No such person: ${buyer}` });
  await worker().wake();
  const row = await rowOf(id);
  expect(row).toMatchObject({ state: "failed", tries: 1, address: null });
  expect(row.lastError).toBe("The mail server does not take the address (550)");
});

test("an address refused for now, as by a server that lets strangers wait, is tried again", async () => {
  const { id } = await wish();
  server.refuse({ at: "address", code: 450, words: `Later, ${buyer}` });
  await worker().wake();
  expect(await rowOf(id)).toMatchObject({ state: "waiting", tries: 1 });
});

test("without a mail server set nothing waits for ever", async () => {
  const { id } = await wish();
  const unset = startReceiptMails({
    ...{ db: base.db, way: undefined, now: () => new Date(Date.now() + 1_000) },
    failed: (error) => faults.push(error),
  });
  workers.push(unset);
  await unset.wake();
  const lastError = "This server has no mail server set";
  expect(await rowOf(id)).toMatchObject({ state: "failed", address: null, lastError });
});

test("a worker that was cut off holds a message only for a while", async () => {
  const { id } = await wish();
  const held = new Date(Date.now() + 10 * 60_000);
  await base.db.receiptMail.update({ where: { id }, data: { tries: 1, nextAt: held } });
  const mails = worker();
  await mails.wake();
  expect(server.letters).toHaveLength(0);
  later = 11 * 60_000;
  await mails.wake();
  expect(server.letters).toHaveLength(1);
});

test("a wish for a receipt that is not here holds nothing up and is told once", async () => {
  const [id, receiptId] = [v7(), v7()];
  const lost = { id, receiptId, address: buyer, madeAt: new Date().toISOString() };
  const notes = ["mail-without-receipt"];
  expect(await recordMailFact(from(), lost)).toMatchObject({ value: { recorded: "now", notes } });
  expect(await recordMailFact(from(), lost)).toMatchObject({ value: { recorded: "before" } });
  const kept = await base.db.discrepancy.findMany({ where: { kind: "mail-without-receipt" } });
  expect(kept).toHaveLength(1);
  expect(
    JSON.stringify(kept, (_, value) => (typeof value === "bigint" ? "" : value)),
  ).not.toContain("canary");
});

test("neither audit nor keys know the address", async () => {
  await wish();
  await worker().wake();
  const rows = await base.db.$queryRaw<{ text: string }[]>`
    SELECT row_to_json(a)::text AS text FROM audit a
    UNION ALL SELECT row_to_json(k)::text FROM keyed_deed k
    UNION ALL SELECT row_to_json(m)::text FROM receipt_mail m`;
  expect(rows.some(({ text }) => text.includes("mail-receipt"))).toBe(true);
  expect(rows.filter(({ text }) => text.includes("canary"))).toEqual([]);
});

test("a message can take in no file of this machine", async () => {
  const open = openMailWay(way());
  const letter = { to: buyer, subject: "x", text: { path: "package.json" } };
  await expect(open.sendMail(letter as never)).rejects.toThrow(/rejected/);
  open.close();
});
