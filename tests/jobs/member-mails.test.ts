import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from "vitest";
import { takeLetter } from "../../src/database/letters/queue.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { type LetterPost, letterPost, site, stopLinkIn } from "../support/letter-post.ts";

type Member = Awaited<ReturnType<typeof buildMember>>;

let post: LetterPost;
let weaver: Member;
let other: Member;
let sale: { id: string };
beforeAll(async () => {
  post = await letterPost();
  await buildGuild(post.db);
  weaver = await buildMember(post.db);
  other = await buildMember(post.db);
  await buildMember(post.db, ["member"], { email: null });
  await buildMember(post.db, ["member"], { status: "resting" });
  // Entries end at 17:59 on Friday the 20th where the guild is.
  sale = await buildSale(post.db);
  await enter(post.db, weaver, sale, { quantity: 3 });
  await enter(post.db, weaver, sale);
});
afterAll(() => post.close());
beforeEach(() => set({ entryDeadline: new Date("2026-11-20T23:59:00Z"), stage: "entries-open" }));
afterEach(async () => expect(await post.tidy()).toEqual([]));

const set = (data: object) => post.db.sale.update({ where: { id: sale.id }, data });
const both = () => [weaver.email, other.email];
const states = async () => (await post.rows()).map(({ state, lastError }) => [state, lastError]);

test("fourteen and two days before, every active member with an address is reminded once", async () => {
  post.at("2026-11-06T13:59:00Z");
  await post.look();
  expect(post.arrived()).toEqual([]);
  post.at("2026-11-06T14:00:00Z");
  await post.look();
  await post.look();
  expect(post.arrived()).toEqual(both());
  post.at("2026-11-10T16:00:00Z");
  await post.look();
  expect(post.server.letters).toHaveLength(2);
  post.at("2026-11-18T14:00:00Z");
  await post.look();
  expect(post.server.letters).toHaveLength(4);
});

test("a letter tells the deadline and the pieces, why it came, and how to stop it", async () => {
  post.at("2026-11-18T15:00:00Z");
  await post.look();
  const letter = post.server.letters.find(({ text }) => text?.includes(weaver.name))!;
  expect(letter.subject).toBe("Autumn sale: entries end on Friday, November 20, 2026");
  expect(letter.text).toMatch(/November 20, 2026 at 5:59\sPM/);
  expect(letter.text).toContain("You have entered 4 pieces.");
  expect(letter.text).toContain(`${site}/items?sale=${sale.id}`);
  expect(letter.text).toContain("because you are a member of Alder Creek Weavers");
  expect(letter.text).toContain(`${site}/account/letters`);
  expect([letter.html, letter.attachments]).toEqual([false, []]);
  expect(stopLinkIn(letter.text)).toEqual({ memberId: weaver.id, kind: "entry-deadline" });
  const nothing = post.server.letters.find(({ text }) => text?.includes(other.name))!;
  expect(nothing.text).toContain("You have entered no piece yet.");
});

test("its headers let a mail program stop the kind with one tap, and nothing else", async () => {
  post.at("2026-11-18T15:00:00Z");
  await post.look();
  for (const { headers, headerLines, text } of post.server.letters) {
    const lines = headerLines.filter(({ key }) => key === "list-unsubscribe");
    expect(lines).toHaveLength(1);
    const url = /<(https:[^>]+)>/.exec(lines[0]!.line)?.[1];
    expect(text).toContain(url);
    expect(stopLinkIn(url)?.kind).toBe("entry-deadline");
    expect(headers.get("list-unsubscribe-post") ?? listPost(headerLines)).toContain(
      "List-Unsubscribe=One-Click",
    );
    expect(headers.get("auto-submitted")).toBe("auto-generated");
  }
  expect(post.server.letters).toHaveLength(2);
});

const listPost = (lines: readonly { key: string; line: string }[]) =>
  lines.find(({ key }) => key === "list-unsubscribe-post")?.line;

test("without HTTPS no mail program is promised that a POST is enough", async () => {
  post.at("2026-11-18T15:00:00Z");
  await post.look({ site: "http://sale.example.org" });
  const keys = post.server.letters.flatMap(({ headerLines }) => headerLines.map(({ key }) => key));
  expect(keys).toContain("list-unsubscribe");
  expect(keys).not.toContain("list-unsubscribe-post");
});

test("each letter is in its member's language, else in the guild's", async () => {
  await post.db.member.update({ where: { id: other.id }, data: { language: "de" } });
  post.at("2026-11-18T15:00:00Z");
  await post.look();
  const subjects = post.server.letters.map(({ subject }) => subject).sort();
  expect(subjects).toEqual([
    "Autumn sale: Anmeldeschluss am Freitag, 20. November 2026",
    "Autumn sale: entries end on Friday, November 20, 2026",
  ]);
  await post.db.member.update({ where: { id: other.id }, data: { language: null } });
});

test("whoever does not want reminders gets no row, and whoever stops them in time no letter", async () => {
  await post.want(other.id, "entry-deadline", false);
  // Four in the morning: written down now, sent at eight.
  post.at("2026-11-19T10:00:00Z");
  await post.look();
  expect(await states()).toEqual([["waiting", ""]]);
  expect(post.server.asked).toEqual([]);
  await post.want(weaver.id, "entry-deadline", false);
  post.at("2026-11-19T14:00:00Z");
  await post.look();
  expect(post.server.asked).toEqual([]);
  expect(await states()).toEqual([["skipped", "The member does not want these letters"]]);
});

test("a deadline that is moved while letters wait is told of when its own time comes", async () => {
  post.at("2026-11-19T10:00:00Z");
  await post.look();
  await set({ entryDeadline: new Date("2026-11-28T23:59:00Z") });
  post.at("2026-11-19T14:00:00Z");
  await post.look();
  // Those of the old day are past; that the new one is nine days off is told by the fourteen.
  expect(post.server.letters.map(({ subject }) => subject)).toEqual(
    Array(2).fill("Autumn sale: entries end on Saturday, November 28, 2026"),
  );
  expect((await states()).map(([state]) => state).sort()).toEqual([
    "sent",
    "sent",
    "skipped",
    "skipped",
  ]);
  post.at("2026-11-26T14:00:00Z");
  await post.look();
  expect(post.server.letters).toHaveLength(4);
});

test("an hour's shift of the deadline on the same day is no reason for another letter", async () => {
  post.at("2026-11-18T15:00:00Z");
  await post.look();
  await set({ entryDeadline: new Date("2026-11-20T22:00:00Z") });
  await post.look();
  expect(post.server.letters).toHaveLength(2);
});

test("a server that was off catches up with one letter, and with none after the deadline", async () => {
  post.at("2026-11-20T20:00:00Z");
  await post.look();
  expect(post.server.letters).toHaveLength(2);
  await post.tidy();
  post.at("2026-11-20T10:00:00Z");
  await post.look();
  expect(post.arrived()).toEqual([]);
  post.at("2026-11-21T14:00:00Z");
  await post.look();
  expect(post.arrived()).toEqual([]);
  expect(new Set((await states()).map(String))).toEqual(
    new Set(["skipped,There was nothing to tell any more"]),
  );
});

test("entries that are closed before their deadline remind nobody", async () => {
  post.at("2026-11-19T10:00:00Z");
  await post.look();
  await set({ stage: "entries-closed" });
  post.at("2026-11-19T14:00:00Z");
  await post.look();
  expect(post.arrived()).toEqual([]);
});

test("servers that run side by side send each letter once", async () => {
  post.at("2026-11-18T15:00:00Z");
  await Promise.all([1, 2, 3, 4].map(() => post.worker().wake()));
  expect(post.arrived()).toEqual(both());
  expect(await post.rows()).toHaveLength(2);
});

test("of many letters no two servers ever take the same", async () => {
  const nextAt = new Date("2026-11-18T14:00:00Z");
  const row = { memberId: weaver.id, kind: "check-in-time", subjectId: sale.id, saleId: sale.id };
  const occasions = Array.from({ length: 40 }, (_, index) => String(index));
  await post.db.memberMail.createMany({
    data: occasions.map((occasion) => ({ ...row, occasion, nextAt })),
  });
  const now = new Date("2026-11-18T15:00:00Z");
  const taken = await Promise.all(occasions.map(() => takeLetter(post.db, now)));
  expect(new Set(taken.map((one) => one?.id)).size).toBe(40);
});

test("the address is the one at sending and stands in no row; a lost one is told of", async () => {
  post.at("2026-11-19T10:00:00Z");
  await post.look();
  await post.db.member.update({ where: { id: weaver.id }, data: { email: "moved@example.org" } });
  await post.db.member.update({ where: { id: other.id }, data: { email: null } });
  post.at("2026-11-19T14:00:00Z");
  await post.look();
  expect(post.arrived()).toEqual(["moved@example.org"]);
  expect(JSON.stringify(await post.rows())).not.toContain("@");
  expect((await states()).sort()).toEqual([
    ["failed", "The member has no e-mail address now"],
    ["sent", ""],
  ]);
  for (const { id, email } of [weaver, other])
    await post.db.member.update({ where: { id }, data: { email } });
});

test("a mail server in trouble is tried again for a day after the first try, however old the row", async () => {
  post.at("2026-11-18T15:00:00Z");
  post.server.refuse({ at: "message", code: 451, words: `Later, ${weaver.email}` });
  await post.look();
  await post.db.memberMail.updateMany({ data: { createdAt: new Date("2026-10-01T00:00:00Z") } });
  expect(new Set((await states()).map(String))).toEqual(
    new Set(["waiting,The mail server did not take the message (451)"]),
  );
  post.server.refuse();
  post.at("2026-11-18T15:02:00Z");
  await post.look();
  expect(post.arrived()).toEqual(both());
});

test("without a mail server or an address of its own the service writes nothing", async () => {
  post.at("2026-11-18T15:00:00Z");
  await post.look({ way: undefined });
  await post.look({ site: undefined });
  expect(await post.rows()).toEqual([]);
  const mail = { memberId: weaver.id, kind: "entry-deadline", subjectId: sale.id, saleId: sale.id };
  await post.db.memberMail.create({ data: { ...mail, nextAt: new Date("2026-11-18T14:00:00Z") } });
  await post.look({ site: undefined });
  expect(await states()).toEqual([["skipped", "This server does not know its own address"]]);
  await post.db.memberMail.updateMany({ data: { state: "waiting", endedAt: null } });
  post.at("2026-11-18T15:30:00Z");
  await post.look({ way: undefined });
  expect(await states()).toEqual([["skipped", "This server has no mail server set"]]);
});
