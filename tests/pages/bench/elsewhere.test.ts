import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../../support/app.ts";
import { buildMember } from "../../support/build.ts";
import { buildHall, buildPieces } from "../../support/build-till.ts";
import { errorLinks, linksIn } from "../../support/html.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let weaver: Client;
let other: Client;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 1);
  weaver = await signedIn(base, hall.weaver);
  other = await signedIn(base, await buildMember(base.db));
});
afterAll(() => base.close());

const path = "/bench/elsewhere";
const note = {
  ...{ day: "8/1/2026", outlet: "Corner shop", kind: "towel", description: "Plain towel" },
  ...{ quantity: "2", price: "20", kept: "" },
};
const noted = (description: string) =>
  base.db.elsewhereSale.findFirstOrThrow({ where: { description } });

test("an empty list says what to do", async () => {
  const { text } = await weaver.visit(path);
  expect(text).toContain("Nothing noted yet");
  expect(text).toContain(`href="${path}/new"`);
  expect((await weaver.visit(`${path}/pick`)).text).toContain("No unsold piece");
});

test("a sale is noted with everything, and its outlet is offered next time in one spelling", async () => {
  const full = { ...note, kept: "30 %", colours: "Blue", minutes: "1:15", materials: "4.50" };
  const fibres = { "fibres.1.fibre": "cotton", "fibres.1.percent": "" };
  const sent = await weaver.submit(path, { ...full, ...fibres });
  expect(sent.headers.location).toBe(path);
  expect(await noted("Plain towel")).toMatchObject({
    ...{ day: new Date("2026-08-01T00:00:00Z"), quantity: 2, price: 2_000n, keptRate: 30_000 },
    ...{ keptAmount: null, minutes: 75, materials: 450n, memberId: hall.weaver.id },
    fibres: [{ fibre: "cotton", percent: 100 }],
  });
  await weaver.submit(path, { ...note, outlet: "corner SHOP", description: "Rug", kept: "12.50" });
  expect(await noted("Rug")).toMatchObject({ outlet: "Corner shop", keptAmount: 1_250n });
  const form = await weaver.visit(`${path}/new`);
  expect(form.text).toContain('<option value="Corner shop">');
  expect((await other.visit(`${path}/new`)).text).not.toContain("Corner shop");
  expect((await weaver.visit(path)).text).toContain("$28.00");
});

test.each([
  [{ day: "someday" }, "day"],
  [{ day: "1/1/2199" }, "day"],
  [{ outlet: "" }, "outlet"],
  [{ kind: "spaceship" }, "kind"],
  [{ description: "" }, "description"],
  [{ quantity: "many" }, "quantity"],
  [{ quantity: "0" }, "quantity"],
  [{ price: "a lot" }, "price"],
  [{ kept: "101 %" }, "kept"],
  [{ kept: "40.01" }, "kept"],
  [{ minutes: "later" }, "minutes"],
  [{ materials: "-3" }, "materials"],
  [{ "fibres.2.fibre": "cotton", "fibres.2.percent": "40" }, "fibres"],
  [{ "fibres.1.fibre": "moonlight", "fibres.1.percent": "100" }, "fibres.1.fibre"],
])("a form with %o comes back whole, with the fault at its field", async (wrong, field) => {
  const before = await base.db.elsewhereSale.count();
  const answer = await weaver.submit(path, { ...note, description: "Typed once", ...wrong });
  expect(answer.status).toBe(400);
  expect(errorLinks(answer.text)).toEqual([field]);
  if (field !== "description") expect(answer.text).toContain('value="Typed once"');
  for (const value of Object.values(wrong))
    if (value !== "spaceship" && value !== "moonlight" && value !== "cotton")
      expect(answer.text).toContain(`value="${value}"`);
  expect(await base.db.elsewhereSale.count()).toBe(before);
});

test("the same form sent twice is one note", async () => {
  const key = v7();
  const once = { ...note, description: "Sent twice" };
  await weaver.submit(path, once, key);
  await weaver.submit(path, once, key);
  expect(await base.db.elsewhereSale.count({ where: { description: "Sent twice" } })).toBe(1);
});

test("a note is put right from its version, taken back with a mark, and then stays", async () => {
  await weaver.submit(path, { ...note, description: "Bag" });
  const { id } = await noted("Bag");
  const form = await weaver.visit(`${path}/${id}`);
  expect(form.text).toContain('value="2026-08-01"');
  const change = { ...note, description: "Bag", price: "22", version: "1" };
  expect((await weaver.submit(`${path}/${id}`, change)).headers.location).toBe(path);
  expect((await noted("Bag")).price).toBe(2_200n);
  const late = await weaver.submit(`${path}/${id}`, { ...change, price: "23" });
  expect(late.status).toBe(409);
  expect(late.text).toContain('value="23"');
  expect((await weaver.submit(`${path}/${id}/taking-back`, { version: "1" })).status).toBe(409);
  await weaver.submit(`${path}/${id}/taking-back`, { version: "2" });
  const list = await weaver.visit(`${path}?q=bag`);
  expect(list.text).toContain("Taken back");
  const shut = await weaver.visit(`${path}/${id}`);
  expect(shut.text).toContain("counts for nothing");
  expect(shut.text).not.toContain("Keep the note");
  expect((await weaver.submit(`${path}/${id}`, { ...change, version: "3" })).status).toBe(409);
  expect((await noted("Bag")).price).toBe(2_200n);
});

test("another's note answers like one that is not there", async () => {
  await weaver.submit(path, { ...note, description: "Secret" });
  const { id } = await noted("Secret");
  for (const unknown of [id, v7(), "nonsense"]) {
    expect((await other.visit(`${path}/${unknown}`)).status).toBe(404);
    expect((await other.submit(`${path}/${unknown}`, { ...note, version: "1" })).status).toBe(404);
    const back = await other.submit(`${path}/${unknown}/taking-back`, { version: "1" });
    expect(back.status).toBe(404);
  }
  expect((await other.get(`/api/me/elsewhere/${id}`)).status).toBe(404);
  expect((await other.delete(`/api/me/elsewhere/${id}?version=1`)).status).toBe(404);
  expect((await other.visit(path)).text).not.toContain("Secret");
  expect((await noted("Secret")).takenBackAt).toBeNull();
});

test("an own unsold piece is picked with what is known of it, and cannot sell twice", async () => {
  const { db } = base;
  const [piece] = await buildPieces(db, hall.sale, hall.weaver, [{ price: 4_500, quantity: 2 }]);
  const { id } = piece!;
  await db.itemMaking.create({ data: { itemId: id, minutes: 150, materials: 900n } });
  const offered = linksIn((await weaver.visit(`${path}/pick?q=scarf`)).text);
  expect(offered).toContain(`${path}/new?item=${id}`);
  const form = (await weaver.visit(`${path}/new?item=${id}`)).text;
  for (const value of ["Scarf 1", "45.00", "2:30", "9.00", id])
    expect(form).toContain(`value="${value}"`);
  expect((await other.visit(`${path}/new?item=${id}`)).text).not.toContain("Scarf 1");
  const picked = { ...note, itemId: id, kind: "scarf", description: "Picked", quantity: "3" };
  const many = await weaver.submit(path, picked);
  expect(errorLinks(many.text)).toEqual(["quantity"]);
  expect((await other.submit(path, { ...picked, quantity: "1" })).status).toBe(400);
  await weaver.submit(path, { ...picked, quantity: "2" });
  expect((await weaver.submit(path, { ...picked, quantity: "1" })).status).toBe(400);
  const kept = await noted("Picked");
  expect(kept.itemId).toBe(id);
  // Its own pieces do not stand in its way when the note is put right.
  const change = { ...picked, quantity: "2", price: "44", version: "1" };
  expect((await weaver.submit(`${path}/${kept.id}`, change)).headers.location).toBe(path);
});

test("pages turn, with the search kept", async () => {
  const rows = Array.from({ length: 55 }, (_, index) => index);
  const kind = await base.db.kind.findFirstOrThrow();
  await base.db.elsewhereSale.createMany({
    data: rows.map((index) => ({
      ...{ id: v7(), memberId: hall.weaver.id, kindId: kind.id, day: new Date("2020-01-01") },
      ...{ outlet: "Old fair", description: `Old ${index}`, fibres: [], quantity: 1, price: 1n },
    })),
  });
  const first = await weaver.visit(`${path}?q=old%20fair`);
  const next = /href="([^"]+)" rel="next"/
    .exec(first.text)![1]!
    .replaceAll("&amp;", "&")
    .replaceAll("&#x3D;", "=");
  const second = await weaver.visit(next);
  const found = (text: string) => [...text.matchAll(/>(Old \d+)</g)].map(([, name]) => name);
  expect(new Set([...found(first.text), ...found(second.text)]).size).toBe(55);
  expect(second.text).not.toContain('rel="next"');
});

test("the API notes, lists, changes and takes back", async () => {
  const body = { day: "2026-09-02", outlet: "Friend", kind: "scarf", description: "By API" };
  const made = await weaver.post("/api/me/elsewhere", { ...body, quantity: 1, price: 5_000 });
  expect(made.status).toBe(201);
  expect(made.body).toMatchObject({ kept: 0, left: 5_000, takenBack: false, version: 1 });
  const { id } = made.body;
  const both = { ...body, quantity: 1, price: 5_000, keptRate: 1, keptAmount: 1 };
  const refused = await weaver.post("/api/me/elsewhere", both);
  expect([refused.status, refused.body.errors[0].field]).toEqual([400, "keptAmount"]);
  const change = { ...body, quantity: 2, price: 5_000, keptAmount: 2_500, version: 1 };
  const changed = await weaver.put(`/api/me/elsewhere/${id}`, change);
  expect(changed.body).toMatchObject({ quantity: 2, kept: 2_500, left: 7_500, version: 2 });
  expect((await weaver.put(`/api/me/elsewhere/${id}`, change)).status).toBe(409);
  const back = await weaver.delete(`/api/me/elsewhere/${id}?version=2`);
  expect(back.body).toMatchObject({ takenBack: true, version: 3 });
  const { items } = (await weaver.get("/api/me/elsewhere?q=by%20api")).body;
  expect(items.map((one: { id: string }) => one.id)).toEqual([id]);
});
