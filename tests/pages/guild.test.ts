import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember } from "../support/build.ts";
import { linksIn } from "../support/html.ts";

let base: TestApp;
let chair: Client;
let member: Client;

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  chair = await signedIn(base, await buildMember(base.db, ["chair"], { name: "Cora Chair" }));
  member = await signedIn(base, await buildMember(base.db, ["member"]));
});
afterAll(() => base.close());

const settings = {
  name: "Alder Creek Weavers",
  address: "Mill Lane 1\r\nAlder Creek",
  locale: "en-US",
  timeZone: "America/Chicago",
  currency: "USD",
  tagLength: "8",
  paper: "a4",
};
const version = async () => String((await base.db.guild.findFirstOrThrow()).version);

test("settings are kept; an unticked box means no", async () => {
  const ticked = { ...settings, showMemberName: "yes", version: await version() };
  expect((await chair.submit("/guild", ticked)).status).toBe(303);
  expect(await base.db.guild.findFirst()).toMatchObject({ paper: "a4", showMemberName: true });
  expect((await chair.visit("/guild")).text).toMatch(/name="showMemberName"[^>]* checked/);
  await chair.submit("/guild", { ...settings, version: await version() });
  expect((await base.db.guild.findFirst())?.showMemberName).toBe(false);
});

test.each([
  [{ name: "" }, "name"],
  [{ locale: "no locale" }, "locale"],
  [{ timeZone: "Mars/Base" }, "timeZone"],
  [{ currency: "ABC" }, "currency"],
  [{ tagLength: "9" }, "tagLength"],
  [{ paper: "napkin" }, "paper"],
  [{ address: "x".repeat(301) }, "address"],
  [{ version: "0" }, "version"],
])("%o is refused at its field", async (wrong, field) => {
  const given = { ...settings, version: await version(), ...wrong };
  const answer = await chair.submit("/guild", given);
  expect(answer.status).toBe(400);
  expect(answer.text).toContain(`href="#f-${field}"`);
});

test("an old page of settings is told so", async () => {
  await base.db.guild.update({ where: { id: 1 }, data: { version: { increment: 1 } } });
  expect((await chair.submit("/guild", { ...settings, version: "1" })).status).toBe(409);
});

test("kinds are added, renamed, retired and used again", async () => {
  expect((await chair.submit("/kinds", { name: "Tea cosy" })).status).toBe(303);
  const kind = await base.db.kind.findUniqueOrThrow({ where: { code: "tea-cosy" } });
  await chair.submit(`/kinds/${kind.id}`, { name: "Pot cosy" });
  await chair.submit(`/kinds/${kind.id}`, { name: "Pot cosy", use: "retire" });
  const page = await chair.visit("/kinds");
  expect(page.text).toMatch(/Pot cosy[\s\S]*Use again/);
  await chair.submit(`/kinds/${kind.id}`, { use: "restore" });
  expect(await base.db.kind.findUnique({ where: { id: kind.id } })).toMatchObject({
    name: "Pot cosy",
    active: true,
  });
  expect((await chair.submit("/kinds", { name: "pot COSY" })).status).toBe(400);
  expect((await chair.submit("/kinds", { name: "" })).status).toBe(400);
  expect((await chair.submit("/kinds/9", { use: "retire" })).status).toBe(404);
});

test("the audit names person and deed, finds both and pages on", async () => {
  const all = await chair.visit("/audit");
  expect(all.text).toContain("Add kind");
  expect(all.text).toContain("Cora Chair (100)");
  expect((await chair.visit("/audit?q=add+kind")).text).not.toContain("Edit guild");
  expect((await chair.visit("/audit?q=cora")).text).toContain("Edit guild");
  expect((await chair.visit("/audit?q=%25%25")).text).toContain("Nothing found");
  await base.db.audit.createMany({
    data: Array.from({ length: 120 }, (_, index) => ({
      deed: "filler",
      subjectId: String(index),
      detail: { index },
      requestId: "test",
    })),
  });
  let path: string | undefined = "/audit?q=filler";
  let rows = 0;
  for (let pages = 0; path && pages < 5; pages += 1) {
    const page = await chair.visit(path);
    rows += page.text.match(/Index: \d+/g)?.length ?? 0;
    path = linksIn(page.text).find((link) => link.includes("after="));
  }
  expect(rows).toBe(120);
  expect((await chair.visit("/audit?after=x")).status).toBe(200);
  expect((await member.visit("/audit")).status).toBe(403);
});

test("help is open to everybody and explains every refusal the API can link to", async () => {
  const help = await member.visit("/help");
  for (const anchor of ["member", "desk", "cashier", "treasurer", "chair", "chair-tills"])
    expect(help.text).toContain(`id="${anchor}"`);
  const refused = await member.get("/api/members");
  expect(refused.status).toBe(403);
  const page = await member.visit("/help/problems");
  expect(page.text).toContain(`id="${refused.body.type.split("#")[1]}"`);
});
