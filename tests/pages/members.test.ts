import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember } from "../support/build.ts";
import { linksIn } from "../support/html.ts";

let base: TestApp;
let chair: Client;
let treasurer: Client;
let chairId: string;
const unknownId = "01900000-0000-7000-8000-000000000000";

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  const member = await buildMember(base.db, ["chair"], { name: "Cora Chair" });
  chairId = member.id;
  chair = await signedIn(base, member);
  treasurer = await signedIn(base, await buildMember(base.db, ["treasurer"]));
});
afterAll(() => base.close());

const count = () => base.db.member.count();

describe("adding one", () => {
  test("a form becomes a member, with one ticked role as good as several", async () => {
    const answer = await chair.submit("/members", {
      name: " Mabel Treadle ",
      email: "Mabel@Example.org",
      phone: "555-0101",
      roles: "desk",
    });
    expect(answer.status).toBe(303);
    const member = await base.db.member.findUniqueOrThrow({
      where: { email: "mabel@example.org" },
    });
    expect(member).toMatchObject({ name: "Mabel Treadle", roles: ["desk"], number: 102 });
    expect(answer.headers.location).toBe(`/members/${member.id}`);
    const page = await chair.visit(`/members/${member.id}`);
    expect(page.text).toContain("Not joined yet");
    expect(page.text).toContain('value="mabel@example.org"');
  });

  test.each([
    [{ name: "" }, "Give a name"],
    [{ name: "=1+1" }, "in letters"],
    [{ name: "x".repeat(81) }, "at most 80"],
    [{ name: ["Ann", "Bea"] }, "Give a name"],
    [{ email: "nowhere" }, "like name@example.org"],
    [{ email: "mabel@example.org" }, "has this e-mail already"],
    [{ phone: "@cmd" }, "in digits"],
    [{ roles: "wizard" }, "roles listed"],
    [{ roles: [] }, "at least one role"],
  ])("%o is refused beside its field and keeps what was typed", async (wrong, words) => {
    const before = await count();
    const given = { name: "Ida Inkle", email: "", phone: "555-0102", roles: ["member"], ...wrong };
    const answer = await chair.submit("/members", given);
    expect(answer.status).toBe(400);
    expect(answer.text).toContain(words);
    expect(answer.text).toContain("<title>Error: ");
    if (!("phone" in wrong)) expect(answer.text).toContain('value="555-0102"');
    expect(await count()).toBe(before);
  });

  test("the same form sent twice adds one member", async () => {
    const before = await count();
    const fields = { name: "Twice Typed", email: "", phone: "", roles: "member" };
    const both = await Promise.all([1, 2].map(() => chair.submit("/members", fields, "one-key-1")));
    expect(both.map((answer) => answer.headers.location)).toEqual([
      both[0]?.headers.location,
      both[0]?.headers.location,
    ]);
    expect(await count()).toBe(before + 1);
  });
});

describe("changing one", () => {
  const fields = { name: "New Name", email: "", phone: "", roles: "member", status: "active" };

  test("an old page is told that somebody was quicker, and keeps its words", async () => {
    const member = await buildMember(base.db, ["member"], { version: 4 });
    const stale = await chair.submit(`/members/${member.id}`, { ...fields, version: "3" });
    expect(stale.status).toBe(409);
    expect(stale.text).toContain('value="New Name"');
    const fresh = await chair.submit(`/members/${member.id}`, { ...fields, version: "4" });
    expect(fresh.status).toBe(303);
  });

  test("the only chair cannot rest", async () => {
    const given = { ...fields, roles: "chair", status: "resting", version: "1" };
    const answer = await chair.submit(`/members/${chairId}`, given);
    expect(answer.status).toBe(400);
    expect(answer.text).toContain("only active chair");
  });

  test.each([unknownId, "100", "x'--", "%00"])("member %j is not there", async (id) => {
    expect((await chair.visit(`/members/${id}`)).status).toBe(404);
    expect((await chair.submit(`/members/${id}`, fields)).status).toBe(404);
  });
});

describe("the list", () => {
  test("finds part of a name, a whole number and an e-mail, and pages on", async () => {
    await base.db.member.createMany({
      data: Array.from({ length: 60 }, (_, index) => ({
        number: 300 + index,
        name: `Row ${index}`,
      })),
    });
    expect((await chair.visit("/members?q=cora")).text).toContain("Cora Chair");
    expect((await chair.visit("/members?q=359")).text).toContain("Row 59");
    const none = await chair.visit("/members?q=%25");
    expect(none.text).toContain("Nobody found");
    const first = await chair.visit("/members?q=Row");
    const second = await chair.visit(linksIn(first.text).find((link) => /after=/.test(link)) ?? "");
    expect(first.text).toContain("Row 49");
    expect(first.text).not.toContain("Row 50<");
    expect(second.text).toContain("Row 50<");
  });

  test.each(["q=%00", "after=x", "after=-1", "status=gone", `q=${"x".repeat(3000)}`])(
    "%s does no harm",
    async (query) => {
      expect((await chair.visit(`/members?${query}`)).status).toBe(200);
    },
  );

  test("the treasurer reads but is offered no change", async () => {
    const list = await treasurer.visit("/members");
    expect(list.status).toBe(200);
    expect(list.text).not.toContain("/members/new");
    const page = await treasurer.visit(`/members/${chairId}`);
    expect(page.text).not.toContain("Save changes");
    expect((await treasurer.visit("/members/new")).status).toBe(403);
  });
});

describe("a link", () => {
  test("is shown once to the chair and opens the page for the pass phrase", async () => {
    const member = await buildMember(base.db);
    const answer = await chair.submit(`/members/${member.id}/link`);
    const path = /\/join\/[\w-]+/.exec(answer.text)?.[0] ?? "";
    expect(path).not.toBe("");
    expect((await chair.visit(path)).text).toContain("Choose a pass phrase");
    expect((await chair.visit(`/members/${member.id}/link`)).text).not.toContain("/join/");
    const row = await base.db.oneUseLink.findFirstOrThrow({ where: { memberId: member.id } });
    expect(JSON.stringify(row)).not.toContain(path.slice("/join/".length));
  });
});

describe("many at once", () => {
  const send = (text: string | Buffer, path = "/members/import") =>
    chair.upload(path, typeof text === "string" ? { text } : {}, text);

  test("the preview adds nobody; applying the same text adds the good rows", async () => {
    const before = await count();
    const text = "name,email\nPhoebe Reed,phoebe@example.org\n,broken\n";
    const preview = await send(text);
    expect(preview.status).toBe(200);
    expect(preview.text).toContain("Give a name");
    expect(preview.text).toContain("Add 1 member<");
    expect(await count()).toBe(before);
    const done = await send(text, "/members/import/apply");
    expect(done.headers.location).toBe("/members");
    expect(await count()).toBe(before + 1);
  });

  test("a file in an older code page keeps its accents", async () => {
    const file = Buffer.from("name;email\nZo\u00eb Lisse;\n", "latin1");
    expect((await send(file)).text).toContain("Zo\u00eb Lisse");
  });

  test("nothing chosen, or something that is no list, is said on the same page", async () => {
    expect((await send("")).status).toBe(400);
    const wrong = await send("just words");
    expect(wrong.status).toBe(400);
    expect(wrong.text).toContain("just words");
  });
});
