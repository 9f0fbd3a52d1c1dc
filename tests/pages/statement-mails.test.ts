import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildSettling, closeTill, settleNow } from "../support/build-settlement.ts";
import { type MailServer, startMailServer, toOf } from "../support/mail-server.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let server: MailServer;
let treasurer: Client;
let weaver: Client;
let settlement: string;
let statement: string;
beforeAll(async () => {
  server = await startMailServer();
  base = await startApp({ SMTP_URL: server.url, MAIL_FROM: "sale@example.org" });
  hall = await buildSettling(base.db);
  await closeTill(base.db, hall);
  await settleNow(base.db, hall);
  await base.db.member.update({ where: { id: hall.other.id }, data: { email: null } });
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
  const { id, settlementId } = await base.db.statement.findFirstOrThrow({
    where: { memberId: hall.weaver.id },
  });
  settlement = settlementId;
  statement = id;
});
afterAll(async () => {
  await base.close();
  await server.stop();
});

const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const mails = (rest = "") => `/books/settlements/${settlement}/mails${rest}`;
const own = () => `/books/statements/${statement}/mails`;

test("the settlement's page leads to its messages, which say who gets one and whom to print for", async () => {
  expect((await treasurer.visit(`/books/settlements/${settlement}`)).text).toContain(mails());
  const { text, headers } = await treasurer.visit(mails()).expect(200);
  expect(headers.refresh).toBeUndefined();
  const words = read(text);
  expect(words).toContain("Send 1 statement by e-mail");
  expect(words).toContain("1 member has no e-mail address: print this statement (PDF)");
  expect(words).toMatch(/Weaver \d+ w\d+@example\.org Not sent yet/);
  const pdf = await treasurer.visit(`/books/settlements/${settlement}/to-print.pdf`).expect(200);
  const pages = await pagesOf(new Uint8Array(pdf.body));
  expect(pages).toHaveLength(1);
  expect(await wordsOf(pages[0]!)).toContain(hall.other.name);
});

test("bad input is refused on the same page and sends nothing", async () => {
  for (const fields of [{}, { which: "all" }, { which: "new", more: "1" }]) {
    const refused = await treasurer.submit(mails(), fields).expect(400);
    expect(read(refused.text)).toContain("Statements by e-mail");
  }
  for (const after of [undefined, "-1", "x", "1e9"])
    await treasurer.submit(own(), after === undefined ? {} : { after }).expect(400);
  expect(await base.db.statementMail.count()).toBe(0);
  await treasurer.visit(mails("?state=nonsense&after=x&q=%00")).expect(200);
});

test("members and strangers reach none of it", async () => {
  for (const path of [mails(), own(), `/books/settlements/${settlement}/to-print.pdf`])
    await weaver.visit(path).expect(403);
  await weaver.submit(mails(), { which: "new" }).expect(403);
  await weaver.post(`/api/settlements/${settlement}/mails`, { which: "new" }).expect(403);
  await weaver.get(`/api/statements/${statement}/mails`).expect(403);
  await treasurer.visit(`/books/settlements/${v7()}/mails`).expect(404);
  await treasurer.visit("/books/statements/nonsense/mails").expect(404);
  await treasurer.submit(`/books/statements/${v7()}/mails`, { after: "0" }).expect(404);
  expect(await base.db.statementMail.count()).toBe(0);
});

test("a double press sends one message, and the page tells of it", async () => {
  const key = v7();
  await treasurer.submit(mails(), { which: "new" }, key).expect(303);
  await treasurer.submit(mails(), { which: "new" }, key).expect(303);
  await base.app.statementMails.wake();
  expect(server.letters.map(toOf)).toEqual([hall.weaver.email]);
  const words = read((await treasurer.visit(mails())).text);
  expect(words).toContain("1 of 1 sent, 0 waiting, 0 not sent, 0 came back");
  expect(words).toContain("The mail server took it on");
  expect(words).not.toContain("Send 1 statement");
  const late = await treasurer.submit(mails(), { which: "new" }).expect(409);
  expect(read(late.text)).toContain("This has been done already");
});

test("what waits makes the page look again by itself, seldom when it was tried", async () => {
  server.refuse({ at: "message", code: 451, words: "Not now" });
  await base.db.statementMail.create({
    data: { statementId: statement, attempt: 2, byId: hall.treasurer.id },
  });
  expect((await treasurer.visit(mails())).headers.refresh).toBe("3");
  expect((await treasurer.visit(own())).headers.refresh).toBe("3");
  await base.app.statementMails.wake();
  const { text, headers } = await treasurer.visit(mails());
  expect(headers.refresh).toBe("60");
  expect(read(text)).toMatch(/did not take the message \(451\)\. Tried once, the next time at/);
  server.refuse({ at: "address", code: 550, words: "No such person" });
  base.at(new Date(Date.now() + 120_000));
  await base.app.statementMails.wake();
  server.refuse();
  const failed = read((await treasurer.visit(mails("?state=failed"))).text);
  expect(failed).toContain("The mail server does not take the address (550). Given up on");
  expect(failed).toContain("Try again what was not sent: 1");
  await treasurer.submit(mails(), { which: "failed" }).expect(303);
  await base.app.statementMails.wake();
  expect(server.letters).toHaveLength(2);
});

test("a message that came back is noted with a reason, and only then shows so", async () => {
  const page = await treasurer.visit(own()).expect(200);
  const [, action] = /action="([^"]+\/return)"/.exec(page.text) ?? [];
  const refused = await treasurer.submit(action!, { note: " " }).expect(400);
  expect(read(refused.text)).toContain("Say what came back");
  await treasurer.submit(action!, { note: "Mailbox full" }).expect(303);
  expect(read((await treasurer.visit(own())).text)).toContain("it came back: Mailbox full");
  expect(read((await treasurer.visit(mails("?state=returned"))).text)).toContain("Came back");
});

test("the API tells and does the same", async () => {
  const told = await treasurer.get(`/api/settlements/${settlement}/mails`).expect(200);
  expect(told.body).toMatchObject({ noAddress: 1, returned: 1, sent: 0, next: null });
  expect(told.body.items).toMatchObject([
    { state: "returned", attempt: 3, note: "Mailbox full" },
    { state: "no-address", address: null, attempt: 0 },
  ]);
  const paged = await treasurer.get(`/api/settlements/${settlement}/mails?limit=1`).expect(200);
  expect(paged.body.items).toHaveLength(1);
  expect(paged.body.next).toBe(String(paged.body.items[0].number));
  await treasurer.post(`/api/settlements/${settlement}/mails`, { which: "new" }).expect(409);
  await treasurer.post(`/api/settlements/${settlement}/mails`, {}).expect(400);
  const path = `/api/statements/${statement}/mails`;
  await treasurer.post(path, { after: 0 }).expect(409);
  const queued = await treasurer.post(path, { after: 3 }).expect(202);
  expect(queued.body).toMatchObject({ statementId: statement, attempt: 4 });
  await base.app.statementMails.wake();
  const { items } = (await treasurer.get(path).expect(200)).body;
  expect(items[0]).toMatchObject({ attempt: 4, state: "sent" });
  const back = `/api/statement-mails/${items[0].id}/return`;
  await treasurer.post(back, { note: "Unknown" }).expect(201);
  await treasurer.post(back, { note: "Unknown" }).expect(409);
});

test("without a mail server the pages say what to set, and nothing is queued", async () => {
  const { mail } = base.app.parts.settings;
  base.app.parts.settings.mail = undefined;
  try {
    for (const path of [mails(), own()]) {
      const words = read((await treasurer.visit(path).expect(200)).text);
      expect(words).toContain("This server sends no e-mail yet");
      expect(words).toMatch(/SMTP_URL.*MAIL_FROM/);
    }
    const rows = await base.db.statementMail.count();
    await treasurer.submit(mails(), { which: "new" }).expect(409);
    await treasurer.submit(own(), { after: "4" }).expect(409);
    const refused = await treasurer.post(`/api/statements/${statement}/mails`, { after: 4 });
    expect(refused.body.code).toBe("no-mail");
    expect(await base.db.statementMail.count()).toBe(rows);
  } finally {
    base.app.parts.settings.mail = mail;
  }
});
