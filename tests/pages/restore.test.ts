import supertest from "supertest";
import { afterAll, beforeAll, expect, test } from "vitest";
import { offerSetUp } from "../../src/actions/set-up-guild.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { startApp, type TestApp } from "../support/app.ts";
import { archiveOf } from "../support/archive.ts";
import { buildThreeSales } from "../support/build-three-sales.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { errorLinks } from "../support/html.ts";
import { visitor } from "../support/visitor.ts";

let home: TestDatabase;
let base: TestApp;
let guild: Awaited<ReturnType<typeof buildThreeSales>>;
let zip: Uint8Array;
let path: string;

beforeAll(async () => {
  home = await freshDatabase();
  guild = await buildThreeSales(home.db);
  zip = await archiveOf(home.db, guild.settled.sale.id);
  base = await startApp();
  path = `/set-up/${await offerSetUp(base.db)}`;
});
afterAll(async () => {
  await home.drop();
  await base.close();
});

const passphrase = "a fresh warp of quiet mornings";

/** Sends the form as a browser does that has the page open. */
async function send(fields: Record<string, string>, file?: Uint8Array, where = path) {
  const person = await visitor(base, `${path}/restore`);
  const csrf = /name="_csrf" value="([^"]+)"/.exec(person.page.text)?.[1] ?? "";
  const cookie = [...person.cookies].map(([name, value]) => `${name}=${value}`).join("; ");
  const request = supertest(base.app.server)
    .post(`${where}/restore`)
    .set("cookie", cookie)
    .field({ _csrf: csrf, _key: "not-used", ...fields });
  return file ? request.attach("file", Buffer.from(file), "sale-archive.zip") : request;
}

test("the set-up page leads to it, and only the link of an empty service opens it", async () => {
  const person = await visitor(base, path);
  expect(person.page.text).toContain(`href="${path}/restore"`);
  expect((await person.visit(`${path}/restore`)).text).toContain("Take an archive back");
  expect((await person.visit("/set-up/another-link/restore")).status).toBe(410);
  const body = await send({ number: "100", passphrase }, zip, "/set-up/another-link");
  expect(body.status).toBe(410);
});

test("what is wrong stands at its field, and the number that was typed stays", async () => {
  const chair = String(guild.chair.number);
  const cases: [Record<string, string>, Uint8Array | undefined, string[]][] = [
    [{ number: chair, passphrase }, undefined, ["file"]],
    [{ number: "12", passphrase }, zip, ["number"]],
    [{ number: String(guild.weaver.number), passphrase }, zip, ["number"]],
    [{ number: chair, passphrase: "short" }, zip, ["passphrase"]],
    [{ number: chair, passphrase }, new Uint8Array(40), ["file"]],
  ];
  for (const [fields, file, fields_] of cases) {
    const answer = await send(fields, file);
    expect([answer.status, errorLinks(answer.text)]).toEqual([400, fields_]);
    expect(answer.text).toContain(`value="${fields.number}"`);
    expect(answer.text).not.toContain(passphrase);
  }
  const weaver = await send({ number: String(guild.weaver.number), passphrase }, zip);
  expect(weaver.text).toContain(`${guild.chair.number} (${guild.chair.name})`);
  expect(await base.db.member.count()).toBe(0);
});

test("takes the archive back, signs the chair in, and closes the link", async () => {
  const done = await send({ number: String(guild.chair.number), passphrase }, zip);
  expect([done.status, done.headers.location]).toEqual([303, "/members"]);
  expect(String(done.headers["set-cookie"])).toContain("thrumbook-access=");
  const checked = await checkBooks(base.db);
  expect(checked).toEqual(await checkBooks(home.db));
  const own = await visitor(base);
  expect((await own.visit(`${path}/restore`)).status).toBe(410);
  expect((await own.visit(path)).status).toBe(410);
  const [audit] = await base.db.audit.findMany({ where: { deed: "restore-sale" } });
  expect(audit).toMatchObject({ byId: guild.chair.id, detail: { sale: "Summer sale" } });
  expect(await base.db.member.count({ where: { passphraseHash: { not: null } } })).toBe(1);
});
