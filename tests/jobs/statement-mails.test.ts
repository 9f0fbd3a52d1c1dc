import { v7 } from "uuid";
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from "vitest";
import { mailStatement, mailStatements } from "../../src/actions/mail-statements.ts";
import { returnStatementMail } from "../../src/actions/return-statement-mail.ts";
import type { MailWorker } from "../../src/jobs/mail-queue.ts";
import { startStatementMails } from "../../src/jobs/statement-mails.ts";
import { deedOf } from "../support/build.ts";
import { buildSettling, closeTill, done, settleNow } from "../support/build-settlement.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { type MailServer, startMailServer, toOf } from "../support/mail-server.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let server: MailServer;
let settlementId: string;
let later = 0;
let faults: unknown[] = [];
const workers: MailWorker[] = [];

beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildSettling(base.db);
  await closeTill(base.db, hall);
  const settled = await settleNow(base.db, hall);
  settlementId = (await base.db.settlement.findFirstOrThrow()).id;
  expect(settled).toBeTruthy();
});
afterAll(() => base.drop());
beforeEach(async () => {
  server = await startMailServer();
  later = 0;
  faults = [];
  await give(hall.weaver.id, "weaver.canary@example.org");
  await give(hall.other.id, null);
});
afterEach(async () => {
  await Promise.all(workers.splice(0).map((one) => one.stop()));
  await server.stop();
  await base.db.statementMail.deleteMany();
});

const give = (id: string, email: string | null) =>
  base.db.member.update({ where: { id }, data: { email } });

function worker(): MailWorker {
  const one = startStatementMails({
    ...{ db: base.db, way: { url: server.url, from: "Our guild <sale@example.org>" } },
    now: () => new Date(Date.now() + 1_000 + later),
    failed: (error) => faults.push(error),
  });
  workers.push(one);
  return one;
}

const deed = (key?: string) => ({
  ...deedOf(base.db, hall.treasurer),
  ...(key === undefined ? {} : { key }),
});
const ask = (which: "new" | "failed" = "new", key?: string) =>
  mailStatements(deed(key), { settlementId, which });
const again = async (after: number) => {
  const statementId = (await statementOf(hall.weaver.id)).id;
  return mailStatement(deed(), { statementId, after });
};
const statementOf = (memberId: string) =>
  base.db.statement.findFirstOrThrow({ where: { memberId } });
const newest = () => base.db.statementMail.findFirstOrThrow({ orderBy: { attempt: "desc" } });

test("every member with an address gets the statement once, the others are counted", async () => {
  expect(done(await ask())).toEqual({ settlementId, queued: 1, withoutAddress: 1 });
  const mails = worker();
  await mails.wake();
  await mails.wake();
  expect(server.letters).toHaveLength(1);
  const [letter] = server.letters;
  const { number, net } = await statementOf(hall.weaver.id);
  expect(toOf(letter!)).toBe("weaver.canary@example.org");
  expect(letter!.subject).toMatch(new RegExp(`^Statement ${number}, Autumn sale, `));
  expect(letter!.subject).not.toMatch(/\$|\d\.\d\d/);
  const figures = letter!.text!.match(/\$[\d,.]*\d/g);
  expect(figures).toEqual([`$${(Number(net) / 100).toString()}`]);
  const [paper, ...more] = letter!.attachments;
  expect(more).toEqual([]);
  expect(paper).toMatchObject({
    contentType: "application/pdf",
    filename: `statement-${number}.pdf`,
  });
  const [page] = await pagesOf(new Uint8Array(paper!.content));
  expect(await wordsOf(page!)).toContain(`Statement No. ${number}`);
  expect(await newest()).toMatchObject({ state: "sent", tries: 1, attempt: 1, lastError: "" });
  expect(faults).toEqual([]);
});

test("the address is the one at the moment of sending and is kept nowhere else", async () => {
  done(await ask());
  await give(hall.weaver.id, "moved.canary@example.org");
  await worker().wake();
  expect(server.letters.map(toOf)).toEqual(["moved.canary@example.org"]);
  const rows = await base.db.$queryRaw<{ text: string }[]>`
    SELECT row_to_json(a)::text AS text FROM audit a
    UNION ALL SELECT row_to_json(k)::text FROM keyed_deed k
    UNION ALL SELECT row_to_json(m)::text FROM statement_mail m`;
  expect(rows.some(({ text }) => text.includes("mail-statements"))).toBe(true);
  expect(rows.filter(({ text }) => text.includes("canary"))).toEqual([]);
});

test("a member whose address was taken away meanwhile is told of, not written to", async () => {
  done(await ask());
  await give(hall.weaver.id, null);
  await worker().wake();
  expect(server.asked).toEqual([]);
  const lastError = "The member has no e-mail address now";
  expect(await newest()).toMatchObject({ state: "failed", lastError });
});

test("pressed twice it is one message, and a second person finds nothing to do", async () => {
  const key = v7();
  expect(done(await ask("new", key)).queued).toBe(1);
  expect(done(await ask("new", key)).queued).toBe(1);
  expect(await ask()).toMatchObject({ ok: false, problem: { code: "already-done" } });
  expect(await base.db.statementMail.count()).toBe(1);
});

test("of two people at once one queues the messages", async () => {
  const both = await Promise.all([ask(), ask(), ask()]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  await Promise.all([worker().wake(), worker().wake()]);
  expect(server.letters).toHaveLength(1);
});

test("two server processes never send one twice", async () => {
  await give(hall.other.id, "other.canary@example.org");
  expect(done(await ask()).queued).toBe(2);
  await Promise.all([worker().wake(), worker().wake(), worker().wake()]);
  expect(server.letters).toHaveLength(2);
  expect(new Set(server.letters.map(toOf)).size).toBe(2);
});

test("an address refused for good is given up with a reason in our words, and tried again when asked", async () => {
  server.refuse({ at: "address", code: 550, words: "No weaver.canary@example.org here" });
  done(await ask());
  const mails = worker();
  await mails.wake();
  const lastError = "The mail server does not take the address (550)";
  expect(await newest()).toMatchObject({ state: "failed", tries: 1, lastError });
  server.refuse();
  expect(await ask()).toMatchObject({ ok: false });
  const both = await Promise.all([ask("failed"), ask("failed")]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  await mails.wake();
  expect(server.letters).toHaveLength(1);
  expect(await newest()).toMatchObject({ state: "sent", attempt: 2 });
  expect(await ask("failed")).toMatchObject({ ok: false, problem: { code: "already-done" } });
});

test("a mail server in trouble is tried again later, and a restart sends the rest", async () => {
  server.refuse({ at: "message", code: 451, words: "Not now" });
  done(await ask());
  const first = worker();
  await first.wake();
  await first.stop();
  expect(await newest()).toMatchObject({ state: "waiting", tries: 1 });
  server.refuse();
  later = 62_000;
  await worker().wake();
  expect(await newest()).toMatchObject({ state: "sent", tries: 2 });
});

test("a worker that was cut off holds a message only for a while", async () => {
  done(await ask());
  const nextAt = new Date(Date.now() + 10 * 60_000);
  await base.db.statementMail.updateMany({ data: { tries: 1, nextAt } });
  const mails = worker();
  await mails.wake();
  expect(server.letters).toHaveLength(0);
  later = 11 * 60_000;
  await mails.wake();
  expect(server.letters).toHaveLength(1);
});

test("a sent one is sent again only when asked for it, once for two who ask at once", async () => {
  done(await again(0));
  expect(await again(0)).toMatchObject({ ok: false, problem: { code: "already-done" } });
  expect(await again(1)).toMatchObject({ ok: false, problem: { code: "already-done" } });
  const mails = worker();
  await mails.wake();
  const both = await Promise.all([again(1), again(1)]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  const refused = both.find(({ ok }) => !ok);
  expect(JSON.stringify(refused)).toContain("asked for it on");
  await mails.wake();
  expect(server.letters).toHaveLength(2);
  expect(await again(7)).toMatchObject({ ok: false });
  await give(hall.weaver.id, null);
  expect(await again(2)).toMatchObject({ ok: false, problem: { code: "still-open" } });
});

test("what came back is noted once, with its reason, and only of what was sent", async () => {
  const { mailId } = done(await again(0));
  const back = () => returnStatementMail(deed(), { mailId, note: "Mailbox full" });
  expect(await back()).toMatchObject({ ok: false, problem: { code: "already-done" } });
  await worker().wake();
  const both = await Promise.all([back(), back()]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(await newest()).toMatchObject({ state: "returned", note: "Mailbox full" });
  expect((await newest()).returnedAt).not.toBeNull();
  const unknown = await returnStatementMail(deed(), { mailId: v7(), note: "x" });
  expect(unknown).toMatchObject({ ok: false, problem: { code: "not-found" } });
  // What came back is not sent again with the others: the address has to be put right first.
  expect(await ask("failed")).toMatchObject({ ok: false });
});
