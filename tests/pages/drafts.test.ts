import { v7 } from "uuid";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { mostDrafts } from "../../src/contract/draft.ts";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";

let base: TestApp;
let member: Member;
let sale: { id: string };
let own: Client;
let other: Client;

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  other = await signedIn(base, await buildMember(base.db));
});
afterAll(() => base.close());
beforeEach(() => base.db.entryDraft.deleteMany());

/** Half of a form, with a price that is none and a row far down. */
const half = (more: object = {}) => ({
  ...{ sale: sale.id, member: "", draftForm: "one", kind: "scarf" },
  ...{ description: "Moss <scarf>", price: "4o.5", "fibres.3.fibre": "silk" },
  ...more,
});
const drafts = () => base.db.entryDraft.findMany({ orderBy: { typedAt: "asc" } });
const plain = (html: string) => html.replaceAll("&#x3D;", "=").replaceAll("&amp;", "&");

test("without any script, half a form is kept as typed, listed, and gone on with", async () => {
  const kept = await own.submit("/items/drafts", half({ go: "another" }));
  expect([kept.status, kept.headers.location]).toEqual([303, `/items?sale=${sale.id}`]);
  const [draft] = await drafts();
  expect(draft).toMatchObject({ memberId: member.id, form: "one", version: 1 });
  expect(draft?.fields).toEqual({
    ...{ member: "", kind: "scarf", description: "Moss <scarf>" },
    ...{ price: "4o.5", "fibres.3.fibre": "silk" },
  });
  const list = await own.visit("/items");
  expect(plain(list.text)).toContain(`/items/new?draft=${draft?.id}`);
  expect(list.text).toContain("Moss &lt;scarf&gt;");
  const form = await own.visit(`/items/new?draft=${draft?.id}`);
  expect(form.status).toBe(200);
  for (const piece of [
    'value="Moss &lt;scarf&gt;"',
    'value="4o.5"',
    '<option value="silk" selected>',
    `name="draft" value="${draft?.id}"`,
    'name="draftVersion" value="1"',
  ])
    expect(form.text).toContain(piece);
  expect(await base.db.item.count()).toBe(0);
});

test("entering from it takes it away; a refused form keeps it and its place", async () => {
  await own.submit("/items/drafts", half());
  const [draft] = await drafts();
  const whole = half({
    ...{ draft: draft?.id, draftVersion: "1", agreementVersion: "1" },
    ...{ "fibres.3.percent": "100" },
  });
  const refused = await own.submit("/items", whole);
  expect(refused.status).toBe(400);
  expect(refused.text).toContain(`name="draft" value="${draft?.id}"`);
  expect((await drafts()).length).toBe(1);
  const entered = await own.submit("/items", { ...whole, price: "45.00" });
  expect(entered.status).toBe(303);
  expect(await drafts()).toEqual([]);
});

test("the form for several pieces is kept in the same way", async () => {
  const many = {
    ...{ sale: sale.id, draftForm: "many", kind: "scarf", description: "Runner", price: "30" },
    ...{ "fibres.0.fibre": "wool", "fibres.0.percent": "100", "rows.6.colours": "Teal" },
  };
  await own.submit("/items/drafts", many);
  const [draft] = await drafts();
  expect(plain((await own.visit("/items")).text)).toContain(`/items/many?draft=${draft?.id}`);
  const form = await own.visit(`/items/many?draft=${draft?.id}`);
  expect(form.text).toMatch(/name="rows\.6\.colours"[^>]* value="Teal"/);
  const sent = { ...many, draft: draft?.id, draftVersion: "1", agreementVersion: "1" };
  expect((await own.submit("/items/many", sent)).status).toBe(303);
  expect(await drafts()).toEqual([]);
});

test("kept from two pages, both stay, and the notice says which is the newer", async () => {
  await own.submit("/items/drafts", half());
  const [draft] = await drafts();
  const from = { draft: draft?.id, draftVersion: "1" };
  await own.submit("/items/drafts", half({ ...from, description: "Laptop" }));
  const second = await own.submit("/items/drafts", half({ ...from, description: "Phone" }));
  const cookie = /thrumbook-notice=([\w-]+)/.exec(String(second.headers["set-cookie"]))?.[1] ?? "";
  const notice = JSON.parse(Buffer.from(cookie, "base64url").toString());
  expect(notice.kind).toBe("warn");
  expect(notice.text).toMatch(/Both are kept/);
  const words = (await drafts()).map(
    ({ fields }) => (fields as Record<string, string>).description,
  );
  expect(words.sort()).toEqual(["Laptop", "Phone"]);
});

test("typed on a page whose draft is gone, it is kept afresh", async () => {
  const kept = await own.submit("/items/drafts", half({ draft: v7(), draftVersion: "4" }));
  expect(kept.status).toBe(303);
  expect(await drafts()).toMatchObject([{ version: 1 }]);
});

test("one can be discarded, and nobody else can see, change or discard it", async () => {
  await own.submit("/items/drafts", half());
  const [draft] = await drafts();
  for (const answer of [
    await other.visit(`/items/new?draft=${draft?.id}`),
    await other.visit(`/items/many?draft=${draft?.id}`),
    await other.submit(`/items/drafts/${draft?.id}/discard`),
    await other.get(`/api/me/drafts/${draft?.id}`),
    await other.put(`/api/me/drafts/${draft?.id}`, { form: "one", saleId: sale.id, fields: {} }),
  ])
    expect(answer.status).toBe(404);
  expect((await other.get("/api/me/drafts")).body).toEqual({ items: [] });
  expect((await other.visit("/items")).text).not.toContain("Moss");
  await other.delete(`/api/me/drafts/${draft?.id}`);
  expect((await drafts()).length).toBe(1);
  expect((await own.submit(`/items/drafts/${draft?.id}/discard`)).status).toBe(303);
  expect(await drafts()).toEqual([]);
  expect((await own.visit(`/items/new?draft=${draft?.id}`)).status).toBe(404);
});

test("the fifty-first is refused with what to do, and the form stands as it was", async () => {
  const row = { memberId: member.id, saleId: sale.id, form: "one", typedAt: new Date() };
  await base.db.entryDraft.createMany({
    data: Array.from({ length: mostDrafts }, (_, n) => ({
      id: v7(),
      fields: { n: `${n}` },
      ...row,
    })),
  });
  const refused = await own.submit("/items/drafts", half());
  expect(refused.status).toBe(409);
  expect(refused.text).toContain("Enter or discard some");
  expect(refused.text).toContain('value="4o.5"');
  const many = await own.submit("/items/drafts", half({ draftForm: "many" }));
  expect([many.status, many.text.includes("Enter several pieces")]).toEqual([409, true]);
});

test("over the API: kept, read, kept again and discarded", async () => {
  const id = v7();
  const body = {
    form: "one",
    saleId: sale.id,
    fields: { description: "A\0b", "fibres.0.fibre": ["x"] },
  };
  const kept = await own.put(`/api/me/drafts/${id}`, body);
  expect(kept.body).toMatchObject({ id, version: 1, beside: null });
  const read = await own.get(`/api/me/drafts/${id}`);
  expect(read.body.fields).toEqual({ description: "Ab", "fibres.0.fibre": ["x"] });
  const clash = await own.put(`/api/me/drafts/${id}`, { ...body, fields: { description: "C" } });
  expect(clash.body).toMatchObject({ beside: { id, newer: false } });
  expect((await own.get("/api/me/drafts")).body.items.length).toBe(2);
  expect((await own.delete(`/api/me/drafts/${id}`)).status).toBe(204);
  expect((await own.get(`/api/me/drafts/${id}`)).status).toBe(404);
  for (const fields of [{ __csrf: "x" }, { a: 1 }, { "a b": "c" }, { a: "x".repeat(100_001) }])
    expect((await own.put(`/api/me/drafts/${v7()}`, { ...body, fields })).status).toBe(400);
});

test("entered over the API, a draft named with the item is done with", async () => {
  const id = v7();
  await own.put(`/api/me/drafts/${id}`, { form: "one", saleId: sale.id, fields: {} });
  const item = {
    ...{ kind: "scarf", description: "Scarf", price: 4_500, draftId: id },
    fibres: [{ fibre: "wool", percent: 100 }],
  };
  expect((await own.post(`/api/sales/${sale.id}/items`, item)).status).toBe(201);
  expect(await drafts()).toEqual([]);
});
