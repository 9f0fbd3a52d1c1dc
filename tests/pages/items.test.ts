import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember, buildSale } from "../support/build.ts";
import { early, enter, late, moveTo } from "../support/build-items.ts";
import { errorLinks } from "../support/html.ts";

let base: TestApp;
let member: Member;
let sale: { id: string };
let own: Client;
let other: Client;
let desk: Client;

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  other = await signedIn(base, await buildMember(base.db));
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
});
afterAll(() => base.close());

const filled = (more: object = {}) => ({
  sale: sale.id,
  kind: "scarf",
  description: "Twill scarf",
  price: "45.00",
  quantity: "1",
  "fibres.0.fibre": "wool",
  "fibres.0.percent": "70",
  "fibres.2.fibre": "silk",
  "fibres.2.percent": "30 %",
  agreementVersion: "1",
  ...more,
});

const count = () => base.db.item.count({ where: { memberId: member.id } });
/** Handlebars writes "=" and others as entities; a browser reads them back. */
const plain = (html: string) => html.replaceAll("&#x3D;", "=").replaceAll("&amp;", "&");

describe("entering a piece", () => {
  test("an empty list says what to do first", async () => {
    const page = await other.visit("/items");
    expect(page.status).toBe(200);
    expect(page.text).toContain("Nothing entered yet");
    expect(plain(page.text)).toContain(`/items/new?sale=${sale.id}`);
  });

  test("gives a number and shows the piece in the list", async () => {
    const answer = await own.submit("/items", filled());
    expect(answer.status).toBe(303);
    expect(answer.headers.location).toMatch(/^\/items\/[0-9a-f-]{36}\/questions$/);
    const list = await own.visit(`/items?sale=${sale.id}`);
    expect(list.text).toContain("100-001-");
    expect(list.text).toContain("$45.00");
    const item = await base.db.item.findFirstOrThrow({ where: { memberId: member.id } });
    expect(item.fibres).toEqual([
      { fibre: "wool", percent: 70 },
      { fibre: "silk", percent: 30 },
    ]);
  });

  test("the same form twice, even at once, enters one piece", async () => {
    const before = await count();
    const key = v7();
    const both = await Promise.all([
      own.submit("/items", filled(), key),
      own.submit("/items", filled(), key),
    ]);
    expect(both.map(({ status }) => status)).toEqual([303, 303]);
    expect(await count()).toBe(before + 1);
  });

  test.each<[string, Record<string, unknown>, string[]]>([
    ["no kind and no words", { kind: "", description: "" }, ["kind", "description"]],
    ["no price", { price: "" }, ["price"]],
    ["a price of nothing", { price: "0" }, ["price"]],
    ["a price below zero", { price: "-45" }, ["price"]],
    ["a fraction of a cent", { price: "45.005" }, ["price"]],
    ["another currency", { price: "45 EUR" }, ["price"]],
    ["a price off the steps", { price: "45.50" }, ["price"]],
    ["words for a price", { price: "forty" }, ["price"]],
    ["no pieces", { quantity: "0" }, ["quantity"]],
    ["half a piece", { quantity: "1.5" }, ["quantity"]],
    ["too long a description", { description: "x".repeat(61) }, ["description"]],
    ["a fibre that makes 60", { "fibres.2.percent": "20" }, ["fibres"]],
    ["a percentage in the third row", { "fibres.2.percent": "200" }, ["fibres.2.percent"]],
    ["a fibre of our own", { "fibres.0.fibre": "moonlight" }, ["fibres.0.fibre"]],
    ["care of our own", { "label.care.wash": "boil" }, ["label.care.wash"]],
    ["a line break", { colours: "red\nblue" }, ["colours"]],
    ["two prices", { price: ["45.00", "1.00"] }, ["price"]],
  ])("%s: the field is named, and nothing is entered", async (_words, more, fields) => {
    const before = await count();
    const answer = await own.submit("/items", filled({ size: "20 x 180", ...more }));
    expect(answer.status).toBe(400);
    expect(errorLinks(answer.text)).toEqual(fields);
    expect(answer.text).toContain('value="20 x 180"');
    expect(await count()).toBe(before);
  });

  test("without a tick for the agreement the box is named; then it is asked no more", async () => {
    const fresh = await signedIn(base, await buildMember(base.db));
    const form = await fresh.visit("/items/new");
    expect(form.text).toContain("Everything is my own work.");
    const answer = await fresh.submit("/items", filled({ agreementVersion: undefined }));
    expect(errorLinks(answer.text)).toEqual(["agreementVersion"]);
    expect((await fresh.submit("/items", filled())).status).toBe(303);
    expect((await fresh.visit("/items/new")).text).not.toContain("Everything is my own work.");
  });

  test("the box left empty is told with the other fields, and a tick stays with what was typed", async () => {
    const fresh = await signedIn(base, await buildMember(base.db));
    const wrong = { price: "forty", description: "Kept words" };
    const none = await fresh.submit("/items", filled({ ...wrong, agreementVersion: undefined }));
    expect(errorLinks(none.text)).toEqual(["price", "agreementVersion"]);
    const ticked = (html: string) => /name="agreementVersion"[^>]* checked/.test(html);
    expect(ticked(none.text)).toBe(false);
    const agreed = await fresh.submit("/items", filled(wrong));
    expect(errorLinks(agreed.text)).toEqual(["price"]);
    expect([ticked(agreed.text), agreed.text.includes("Kept words")]).toEqual([true, true]);
    const old = await fresh.submit("/items", filled({ ...wrong, agreementVersion: "7" }));
    expect(ticked(old.text)).toBe(false);
  });

  test("after the deadline a member reads whom to ask; the desk still enters for them", async () => {
    base.at(late);
    const page = await own.visit("/items/new");
    expect(page.text).toContain("Ask the desk or the chair");
    const answer = await own.submit("/items", filled());
    expect(answer.status).toBe(409);
    expect(answer.text).toContain('value="45.00"');
    const helped = await desk.submit("/items", filled({ member: String(member.number) }));
    base.at(early);
    expect(helped.status).toBe(303);
    expect(helped.headers.location).toMatch(/^\/items\/[0-9a-f-]{36}\/questions$/);
  });

  test("nobody enters for another without the role, or for an unknown sale", async () => {
    const answer = await other.submit("/items", filled({ member: String(member.number) }));
    expect(answer.status).toBe(403);
    expect((await own.submit("/items", filled({ sale: v7() }))).status).toBe(404);
    expect((await own.submit("/items", filled({ sale: "nonsense" }))).status).toBe(404);
  });

  test("an ended session is asked to sign in, and a form without its token is refused", async () => {
    const gone = await signedIn(base, member);
    await base.db.session.update({
      where: { id: gone.sessionId },
      data: { endedAt: new Date() },
    });
    expect((await gone.visit("/items")).headers.location).toMatch(/^\/sign-in/);
    expect((await gone.submit("/items", filled())).status).toBe(401);
    expect((await own.submit("/items", filled({ _csrf: "wrong" }))).status).toBe(403);
  });
});

describe("one piece", () => {
  test("somebody else's, an unknown and a misspelt one answer alike; the desk may look", async () => {
    const item = await enter(base.db, member, sale);
    for (const path of [`/items/${item.id}`, `/items/${item.id}/edit`, `/items/${v7()}`]) {
      const page = await other.visit(path);
      expect(page.status).toBe(404);
      expect(page.text).not.toContain("Twill scarf");
    }
    expect((await other.visit("/items/nonsense")).status).toBe(404);
    for (const deed of ["", "/copies", "/withdrawal", "/withdrawal/undo"])
      expect((await other.submit(`/items/${item.id}${deed}`, filled())).status).toBe(404);
    expect((await desk.visit(`/items/${item.id}`)).text).toContain("Twill scarf");
  });

  test("is changed from the version on the screen", async () => {
    const item = await enter(base.db, member, sale);
    const edit = await own.visit(`/items/${item.id}/edit`);
    expect(edit.text).toContain('name="version" value="1"');
    const answer = await own.submit(`/items/${item.id}`, filled({ price: "50.00", version: "1" }));
    expect(answer.headers.location).toBe(`/items/${item.id}`);
    const old = await own.submit(`/items/${item.id}`, filled({ price: "60.00", version: "1" }));
    expect(old.status).toBe(409);
    expect(old.text).toContain('value="60.00"');
    expect((await own.visit(`/items/${item.id}`)).text).toContain("$50.00");
  });

  test("is withdrawn, put back and copied", async () => {
    const item = await enter(base.db, member, sale);
    await own.submit(`/items/${item.id}/withdrawal`);
    expect((await own.visit(`/items/${item.id}`)).text).toContain("Put it back on the list");
    await own.submit(`/items/${item.id}/withdrawal/undo`);
    expect((await own.visit(`/items/${item.id}`)).text).toContain("Withdraw it");
    const copied = await own.submit(`/items/${item.id}/copies`);
    expect(copied.headers.location).toMatch(/^\/items\/[0-9a-f-]{36}$/);
    expect(copied.headers.location).not.toBe(`/items/${item.id}`);
  });

  test("what a person typed is shown as text and never as markup", async () => {
    const item = await enter(base.db, member, sale, { description: "<b>bold</b> & 'quoted'" });
    const page = await own.visit(`/items/${item.id}`);
    expect(page.text).not.toContain("<b>bold</b>");
    expect(page.text).toContain("&lt;b&gt;bold&lt;/b&gt; &amp;");
  });
});

describe("all items of a sale", () => {
  test("are for the desk, the treasurer and the chair", async () => {
    expect((await own.visit(`/sales/${sale.id}/items`)).status).toBe(403);
    expect((await desk.visit(`/sales/${sale.id}/items`)).status).toBe(200);
    expect((await desk.visit(`/sales/${v7()}/items`)).status).toBe(404);
  });

  test("are found by tag, member number, words and place, 50 to a page", async () => {
    const big = await buildSale(base.db, { name: "Big sale" });
    const [one, two] = [await buildMember(base.db), await buildMember(base.db)];
    for (let index = 0; index < 51; index += 1) await enter(base.db, one, big);
    const rug = await enter(base.db, two, big, { kind: "rug", description: "100% rag rug" });
    const path = `/sales/${big.id}/items`;
    const rows = async (query: string) =>
      (await desk.visit(`${path}?${query}`)).text.match(/data-label="Tag"/g)?.length ?? 0;
    expect(await rows("")).toBe(50);
    expect(await rows(`after=${rug.tag}`)).toBe(0);
    expect(await rows(`q=${rug.tag}`)).toBe(1);
    expect(await rows(`q=${two.number}`)).toBe(1);
    expect(await rows("q=RAG+rug")).toBe(1);
    expect(await rows("q=100%25")).toBe(1);
    expect(await rows("q=%25")).toBe(1);
    expect(await rows("q=a%00b")).toBe(0);
    expect(await rows("place=floor")).toBe(0);
    const first = plain((await desk.visit(path)).text);
    const next = /href="([^"]*after=[^"]+)"/.exec(first)?.[1] ?? "";
    const second = await desk.visit(next);
    expect(second.text.match(/data-label="Tag"/g)?.length).toBe(2);
    await moveTo(base.db, big, "closed");
  });
});
