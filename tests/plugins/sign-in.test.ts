import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { choosePassphrase, offerLink } from "../../src/actions/one-use-links.ts";
import { hashPassphrase } from "../../src/actions/passphrase.ts";
import { offerSetUp } from "../../src/actions/set-up-guild.ts";
import { signIn } from "../../src/actions/sign-in.ts";
import { startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, deedOf } from "../support/build.ts";
import { visitor } from "../support/visitor.ts";

const passphrase = "seven shuttles in a basket";
let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;

beforeAll(async () => {
  base = await startApp();
});
afterAll(() => base.close());

describe("the set-up", () => {
  const form = (name: string) => ({
    guildName: "Alder Creek Weavers",
    currency: "USD",
    locale: "en-US",
    timeZone: "America/Chicago",
    tagLength: "8",
    paper: "letter",
    name,
    email: `${name.toLowerCase()}@example.org`,
    passphrase,
  });

  test("happens once, even when two send it at once", async () => {
    const path = `/set-up/${await offerSetUp(base.db)}`;
    const [one, two] = await Promise.all([visitor(base, path), visitor(base, path)]);
    expect(one.page.text).toContain("Set up the guild");
    const weak = await one.submit(path, { ...form("Ann"), passphrase: "short" });
    expect(weak.status).toBe(400);
    expect(weak.text).not.toContain('value="short"');
    const answers = await Promise.all([
      one.submit(path, form("Ann")),
      two.submit(path, form("Bea")),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 410]);
    expect(await base.db.member.count()).toBe(1);
    expect((await visitor(base, path)).page.status).toBe(410);
    expect(await offerSetUp(base.db)).toBeUndefined();
  });
});

describe("signing in", () => {
  beforeAll(async () => {
    if (!(await base.db.guild.findFirst())) await buildGuild(base.db);
    const passphraseHash = await hashPassphrase(passphrase);
    member = await buildMember(base.db, ["member"], { passphraseHash });
  });
  beforeEach(async () => {
    await base.db.signInThrottle.deleteMany();
  });

  const form = (more: object = {}) => ({
    identifier: String(member.number),
    passphrase,
    next: "/",
    ...more,
  });

  test("works by number and by e-mail in any case, and always starts a new session", async () => {
    for (const identifier of [String(member.number), ` ${member.email?.toUpperCase()} `]) {
      const person = await visitor(base);
      person.cookies.set("thrumbook-access", "planted");
      expect((await person.submit("/sign-in", form({ identifier }))).status).toBe(303);
      expect(person.cookies.get("thrumbook-access")).not.toBe("planted");
      expect((await person.visit("/")).text).toContain(`Hello, ${member.name}`);
    }
  });

  test("says the same for an unknown name and a wrong phrase, and keeps the name typed", async () => {
    const wrong = [form({ passphrase: "not the right one at all" }), form({ identifier: "999" })];
    const answers = await Promise.all(
      wrong.map(async (fields) => (await visitor(base)).submit("/sign-in", fields)),
    );
    const summaries = answers.map(
      ({ text }) => /<section class="error-summary"[\s\S]*?<\/section>/.exec(text)?.[0],
    );
    expect(answers.map(({ status }) => status)).toEqual([401, 401]);
    expect(summaries[0]).toBe(summaries[1]);
    expect(answers[1]?.text).toContain('value="999"');
    expect(answers[1]?.text).not.toContain(passphrase);
  });

  test("thirty guesses at once are judged a few at a time", async () => {
    const guess = (index: number) =>
      signIn(base.db, {
        identifier: String(member.number),
        passphrase: `guess number ${index} of thirty`,
        source: "192.0.2.1",
        now: new Date(),
      });
    const results = await Promise.all(Array.from({ length: 30 }, (_, index) => guess(index)));
    const codes = results.map((result) => (result.ok ? "in" : result.problem.code));
    expect(codes.filter((code) => code === "wrong-sign-in").length).toBeLessThanOrEqual(6);
    expect(codes.filter((code) => code === "too-many-tries").length).toBeGreaterThanOrEqual(24);
  });

  test("two people in one hall whose tries come out of order by a moment both get in", async () => {
    const now = Date.now();
    const own = { identifier: String(member.number), passphrase, source: "192.0.2.79" };
    const stranger = { ...own, identifier: "nobody@example.org" };
    const later = await signIn(base.db, { ...stranger, now: new Date(now) });
    expect(later).toMatchObject({ problem: { code: "wrong-sign-in" } });
    expect(await signIn(base.db, { ...own, now: new Date(now - 5) })).toMatchObject({ ok: true });
  });

  test("whoever signs in with an account of one's own still has the guesses at others counted", async () => {
    const from = { source: "192.0.2.77", now: new Date() };
    const tries = Array.from({ length: 4 }, (_, index) => ({
      ...{ identifier: `nobody${index}@example.org`, passphrase: "a guess" },
      ...from,
    }));
    for (const attempt of tries) await signIn(base.db, attempt);
    const own = { identifier: String(member.number), passphrase, ...from };
    expect(await signIn(base.db, own)).toMatchObject({ ok: true });
    const bucket = `source ${from.source}`;
    const left = await base.db.signInThrottle.findUnique({ where: { bucket } });
    expect(left?.failures).toBe(4);
  });

  test("a sign-in clears away waits that were over a day ago", async () => {
    const old = { bucket: "account long-gone", failures: 9, lastFailedAt: new Date("2026-01-01") };
    await base.db.signInThrottle.create({ data: old });
    const own = { identifier: String(member.number), passphrase };
    await signIn(base.db, { ...own, source: "192.0.2.78", now: new Date() });
    expect(await base.db.signInThrottle.findUnique({ where: { bucket: old.bucket } })).toBeNull();
  });

  test("a device the account knows gets in while a stranger hammers", async () => {
    const known = await visitor(base);
    await known.submit("/sign-in", form());
    known.cookies.delete("thrumbook-access");
    known.cookies.delete("thrumbook-refresh");
    for (let index = 0; index < 12; index += 1)
      await signIn(base.db, {
        ...form({ passphrase: "no" }),
        source: "192.0.2.1",
        now: new Date(),
      });
    const stranger = await visitor(base);
    expect((await stranger.submit("/sign-in", form())).status).toBe(429);
    const back = await visitor(base);
    back.cookies.set("thrumbook-device", known.cookies.get("thrumbook-device") ?? "");
    expect((await back.submit("/sign-in", form())).status).toBe(303);
  });

  test("a device of one account is a stranger to another", async () => {
    const known = await visitor(base);
    await known.submit("/sign-in", form());
    const other = await buildMember(base.db, ["member"]);
    for (let index = 0; index < 12; index += 1)
      await signIn(base.db, {
        identifier: String(other.number),
        passphrase: "no",
        source: "192.0.2.1",
        now: new Date(),
      });
    const person = await visitor(base);
    person.cookies.set("thrumbook-device", known.cookies.get("thrumbook-device") ?? "");
    const answer = await person.submit("/sign-in", form({ identifier: String(other.number) }));
    expect(answer.status).toBe(429);
  });

  test.each([
    ["/items?x=1", "/items?x=1"],
    ["//evil.example", "/"],
    ["/\\evil.example", "/"],
    ["\\/evil.example", "/"],
    ["https://evil.example", "/"],
    ["javascript:alert(1)", "/"],
    ["/\t/evil.example", "/"],
    ["/\n/evil.example", "/"],
    [" //evil.example", "/"],
    ["/a b", "/"],
    ["", "/"],
  ])("next=%j leads to %j", async (next, wanted) => {
    const person = await visitor(base, `/sign-in?next=${encodeURIComponent(next)}`);
    const offered = /name="next" value="([^"]*)"/.exec(person.page.text)?.[1];
    expect(offered?.replaceAll("&#x3D;", "=")).toBe(wanted);
    const answer = await person.submit("/sign-in", form({ next }));
    expect(answer.headers.location).toBe(wanted);
  });

  test("every encoded form of another place stays on this site", async () => {
    for (const next of ["/%2fevil.example", "/%5cevil.example", "/..//evil.example"]) {
      const answer = await (await visitor(base)).submit("/sign-in", form({ next }));
      const target = new URL(answer.headers.location ?? "", "http://home.example/sign-in");
      expect(target.host, next).toBe("home.example");
    }
  });
});

describe("a one-use link", () => {
  test("sets one pass phrase when it is used twice at once, and ends earlier sign-ins", async () => {
    const person = await buildMember(base.db, ["member"]);
    const made = await offerLink(deedOf(base.db, person), person.id);
    const token = made.ok ? made.value.token : "";
    const later = new Date(Date.now() + 86_400_000);
    await base.db.session.create({
      data: { memberId: person.id, refreshHash: "old", expiresAt: later },
    });
    const phrases = ["eleven blue warp threads", "twelve green weft threads"];
    const results = await Promise.all(
      phrases.map((phrase) =>
        choosePassphrase(base.db, { token, passphrase: phrase, requestId: "test" }),
      ),
    );
    expect(results.filter((result) => result.ok)).toHaveLength(1);
    expect(await base.db.session.count({ where: { memberId: person.id, endedAt: null } })).toBe(0);
    expect((await visitor(base, `/join/${token}`)).page.status).toBe(410);
  });

  test("counts only for its purpose, its time and its latest copy", async () => {
    const person = await buildMember(base.db, ["member"]);
    const offer = async () => {
      const made = await offerLink(deedOf(base.db, person), person.id);
      return made.ok ? made.value.token : "";
    };
    const first = await offer();
    const second = await offer();
    expect((await visitor(base, `/join/${first}`)).page.status).toBe(410);
    expect((await visitor(base, `/set-up/${second}`)).page.status).toBe(410);
    expect((await visitor(base, `/join/${second}`)).page.status).toBe(200);
    await base.db.oneUseLink.updateMany({
      where: { memberId: person.id },
      data: { expiresAt: new Date(Date.now() - 1) },
    });
    expect((await visitor(base, `/join/${second}`)).page.status).toBe(410);
  });
});
