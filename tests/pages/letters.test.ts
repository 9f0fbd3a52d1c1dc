import supertest from "supertest";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { sealStopLink } from "../../src/actions/letters/stop-token.ts";
import type { LetterKind } from "../../src/rules/letters/kinds.ts";
import { type Client, secret, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { errorLinks } from "../support/html.ts";
import { type MailServer, startMailServer, toOf } from "../support/mail-server.ts";
import { visitor } from "../support/visitor.ts";

let base: TestApp;
let server: MailServer;
let member: Awaited<ReturnType<typeof buildMember>>;
let other: Awaited<ReturnType<typeof buildMember>>;
let weaver: Client;
let chair: Client;
let sale: { id: string; version: number };
beforeAll(async () => {
  server = await startMailServer();
  base = await startApp({
    ...{ SMTP_URL: server.url, MAIL_FROM: "sale@example.org" },
    PUBLIC_URL: "http://sale.example.org",
  });
  base.at(new Date("2026-11-01T18:00:00Z"));
  await buildGuild(base.db);
  member = await buildMember(base.db);
  other = await buildMember(base.db);
  weaver = await signedIn(base, member);
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
  sale = await buildSale(base.db);
});
afterAll(async () => {
  await base.close();
  await server.stop();
});
beforeEach(async () => {
  await base.db.letterChoice.deleteMany();
});

const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const choices = async (memberId = member.id) =>
  Object.fromEntries(
    (await base.db.letterChoice.findMany({ where: { memberId } })).map((one) => [
      one.kind,
      one.wanted,
    ]),
  );
const link = (kind: LetterKind, memberId = member.id) => sealStopLink(secret, { memberId, kind });
const stopAt = (token: string) => `/letters/stop/${token}`;
/** A mail program that knows RFC 8058: no cookie, no page before. */
const oneClick = (path: string) =>
  supertest(base.app.server).post(path).type("form").send("List-Unsubscribe=One-Click");

test("a member ticks letters and a language, and finds them so again", async () => {
  expect((await weaver.visit("/account")).text).toContain('href="/account/letters"');
  const first = await weaver.visit("/account/letters").expect(200);
  const ticked = (html: string) =>
    [...html.matchAll(/name="([\w-]+)" type="checkbox" value="yes" checked/g)].map(
      ([, one]) => one,
    );
  expect(ticked(first.text)).toEqual(["entry-deadline", "check-in-time", "statement-ready"]);
  expect(read(first.text)).toContain(`They go to ${member.email}`);
  expect(first.text).not.toContain("sends no e-mail");
  await weaver.submit("/account/letters", { "first-sold": "yes", language: "fr" }).expect(303);
  const again = await weaver.visit("/account/letters");
  expect(ticked(again.text)).toEqual(["first-sold"]);
  expect(again.text).toContain('<option value="fr" selected>');
  expect(await choices()).toEqual({
    ...{ "entry-deadline": false, "check-in-time": false },
    ...{ "first-sold": true, "statement-ready": false },
  });
  await weaver.submit("/account/letters", { "entry-deadline": "yes" }).expect(303);
  expect((await base.db.member.findUniqueOrThrow({ where: { id: member.id } })).language).toBe(
    null,
  );
  expect(await choices(other.id)).toEqual({});
});

test("a language that is not on the list is refused at its field", async () => {
  const refused = await weaver.submit("/account/letters", { language: "tlh" }).expect(400);
  expect(errorLinks(refused.text)).toEqual(["language"]);
  expect(await choices()).toEqual({});
});

test("looking at the link changes nothing; its one button does, and the page takes it back", async () => {
  const token = link("entry-deadline");
  const guest = await visitor(base, stopAt(token));
  expect(guest.page.status).toBe(200);
  expect(guest.page.text.match(/<button/g)).toHaveLength(1);
  expect(guest.page.text).not.toContain(member.name);
  expect(guest.page.text).not.toContain(member.email);
  await supertest(base.app.server).head(stopAt(token)).expect(200);
  expect(await choices()).toEqual({});
  const stopped = await guest.submit(stopAt(token), {});
  expect([stopped.status, await choices()]).toEqual([200, { "entry-deadline": false }]);
  expect(read(stopped.text)).toContain("You get no more of these letters");
  expect(stopped.text).toContain(`action="/letters/again/${token}"`);
  const back = await guest.submit(`/letters/again/${token}`, {});
  expect([back.status, await choices()]).toEqual([200, { "entry-deadline": true }]);
});

test("a mail program's POST is enough: no cookie, no token of a form, from anywhere", async () => {
  const path = stopAt(link("statement-ready"));
  const answer = await oneClick(path).set("sec-fetch-site", "cross-site").set("origin", "null");
  expect([answer.status, answer.headers.location]).toEqual([200, undefined]);
  expect(await choices()).toEqual({ "statement-ready": false });
  const audits = () => base.db.audit.count({ where: { deed: "stop-letters" } });
  const before = await audits();
  await oneClick(path).expect(200);
  expect(await audits()).toBe(before);
});

test("the POST may come as a form with parts, as an empty one, or with nothing at all", async () => {
  const path = (kind: LetterKind) => stopAt(link(kind));
  const { server: http } = base.app;
  await supertest(http)
    .post(path("entry-deadline"))
    .field("List-Unsubscribe", "One-Click")
    .expect(200);
  await supertest(http).post(path("check-in-time")).type("form").send("").expect(200);
  await supertest(http).post(path("statement-ready")).expect(200);
  expect(Object.values(await choices())).toEqual([false, false, false]);
});

test("a link stops one kind of one member, and what is no link stops nothing", async () => {
  await oneClick(stopAt(link("first-sold", other.id)));
  await oneClick(stopAt(link("check-in-time", other.id))).expect(200);
  expect(await choices(other.id)).toEqual({ "check-in-time": false });
  expect(await choices()).toEqual({});
  const token = link("entry-deadline");
  const nobody = sealStopLink(secret, {
    memberId: "01900000-0000-7000-8000-000000000000",
    kind: "entry-deadline",
  });
  const elsewhere = sealStopLink(`another ${secret}`, { memberId: member.id, kind: "first-sold" });
  for (const wrong of [`${token}A`, token.slice(4), "x", nobody, elsewhere, "%00"]) {
    expect((await oneClick(stopAt(wrong))).status, wrong).toBe(404);
    expect((await supertest(base.app.server).get(stopAt(wrong))).status, wrong).toBe(404);
  }
  expect(await choices()).toEqual({});
});

test("the link opens nothing else: no session, no other form", async () => {
  const answer = await supertest(base.app.server).get(stopAt(link("entry-deadline")));
  expect(JSON.stringify(answer.headers["set-cookie"] ?? [])).not.toMatch(/access|refresh/);
  expect(answer.headers["referrer-policy"]).toBe("same-origin");
  const elsewhere = oneClick("/account/letters").set("cookie", weaver.cookie);
  expect((await elsewhere).status).toBe(403);
});

test("the page speaks the language of the letters", async () => {
  await base.db.member.update({ where: { id: member.id }, data: { language: "es" } });
  const { text } = await supertest(base.app.server).get(stopAt(link("first-sold")));
  expect(text).toContain('<html lang="es">');
  expect(read(text)).toContain("Su primera pieza vendida");
  await base.db.member.update({ where: { id: member.id }, data: { language: null } });
});

const letters = (rest = "") => `/sales/${sale.id}/letters${rest}`;

test("the chair sets the days of the reminders; wrong ones come back as they were typed", async () => {
  expect((await chair.visit(`/sales/${sale.id}`)).text).toContain(`href="${letters()}"`);
  const page = await chair.visit(letters()).expect(200);
  expect(page.text).toContain('value="14, 2"');
  expect(read(page.text)).toContain("No letter yet");
  const version = String(sale.version);
  const wrong = await chair.submit(letters("/reminders"), { days: "14, soon", version });
  expect([wrong.status, errorLinks(wrong.text)]).toEqual([400, ["days"]]);
  expect(wrong.text).toContain('value="14, soon"');
  await chair.submit(letters("/reminders"), { days: "3 21", version }).expect(303);
  expect((await chair.visit(letters())).text).toContain('value="21, 3"');
  expect((await chair.submit(letters("/reminders"), { days: "5", version })).status).toBe(409);
});

test("the chair sees what went out, what came back, and whom to phone", async () => {
  const silent = await buildMember(base.db, ["member"], { email: null, phone: "+1 (555) 0100" });
  await enter(base.db, member, sale);
  base.at(new Date("2026-11-18T15:00:00Z"));
  await base.app.memberMails.wake();
  expect(server.letters.map(toOf)).toContain(member.email);
  const page = read((await chair.visit(letters())).text);
  expect(page).toMatch(/Reminders before entries end 0 3 /);
  const { text } = await chair.visit(letters(`?q=${member.number}`));
  const one = /href="(\/sales\/[\w-]+\/letters\/[\w-]{36})"/.exec(text)?.[1] ?? "";
  expect(read((await chair.visit(one).expect(200)).text)).toContain("The mail server took it on");
  const empty = await chair.submit(`${one}/return`, { note: " " });
  expect([empty.status, errorLinks(empty.text)]).toEqual([400, ["note"]]);
  await chair.submit(`${one}/return`, { note: "Mailbox full" }).expect(303);
  expect((await chair.submit(`${one}/return`, { note: "Again" })).status).toBe(409);
  const back = read((await chair.visit(letters("?state=returned"))).text);
  expect(back).toContain("and it came back: Mailbox full");
  const phone = await chair.visit(letters("/phone")).expect(200);
  expect(read(phone.text)).toMatch(
    new RegExp(
      `${member.name} none The last letter came back 1 .*${silent.name} \\+1 \\(555\\) 0100`,
    ),
  );
  expect(phone.text).toContain('href="tel:+15550100"');
  expect(phone.text).not.toContain(other.name);
  const searched = await chair.visit(letters(`/phone?q=${silent.number}`));
  expect(read(searched.text)).not.toContain(member.name);
});

test("a list of letters pages, and a letter is found only under its own sale", async () => {
  await base.db.memberMail.createMany({
    data: Array.from({ length: 60 }, (_, index) => ({
      ...{ memberId: other.id, kind: "check-in-time", subjectId: sale.id, saleId: sale.id },
      ...{ occasion: String(index), nextAt: new Date("2027-01-01") },
    })),
  });
  const first = await chair.visit(letters("?kind=check-in-time"));
  const next =
    /href="([^"]+)" rel="next"/
      .exec(first.text)?.[1]
      ?.replaceAll("&amp;", "&")
      .replaceAll("&#x3D;", "=") ?? "";
  const second = await chair.visit(next).expect(200);
  const rows = (html: string) => html.match(/data-label="What happened"/g)?.length;
  expect([rows(first.text), rows(second.text)]).toEqual([50, 10]);
  const [row] = await base.db.memberMail.findMany({ take: 1 });
  const elsewhere = await buildSale(base.db, { name: "Spring sale" });
  await chair.visit(`/sales/${elsewhere.id}/letters/${row!.id}`).expect(404);
  await weaver.visit(letters()).expect(403);
});

test("a server that sends no e-mail says so", async () => {
  const mute = await startApp({ SMTP_URL: server.url, MAIL_FROM: "sale@example.org" });
  await buildGuild(mute.db);
  const person = await signedIn(mute, await buildMember(mute.db, ["chair"]));
  const { id } = await buildSale(mute.db);
  expect((await person.visit("/account/letters")).text).toContain(
    "This server sends no e-mail yet",
  );
  const page = await person.visit(`/sales/${id}/letters`);
  expect(page.text).toContain("This server sends no letters yet");
  expect(page.text).toContain("PUBLIC_URL");
  await mute.close();
});
