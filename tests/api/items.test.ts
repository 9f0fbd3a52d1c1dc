import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { early, enter, moveTo, scarf } from "../support/build-items.ts";

let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;
let own: Client;
let other: Client;
let desk: Client;
let treasurer: Client;
let sale: { id: string };
let items: string;

beforeAll(async () => {
  base = await startApp();
  base.at(early);
  await buildGuild(base.db);
  member = await buildMember(base.db);
  own = await signedIn(base, member);
  other = await signedIn(base, await buildMember(base.db));
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  treasurer = await signedIn(base, await buildMember(base.db, ["treasurer"]));
  sale = await buildSale(base.db);
  items = `/api/sales/${sale.id}/items`;
});
afterAll(() => base.close());

const body = (more: object = {}) => ({ ...scarf(), agreementVersion: 1, ...more });
const fields = (answer: { body: { errors: { field: string }[] } }) =>
  answer.body.errors.map(({ field }) => field);

describe("entering", () => {
  test("answers 201 with the item and its tag; the same key answers the same", async () => {
    const key = v7();
    const one = await own.post(items, body(), key);
    expect(one.status).toBe(201);
    expect(one.body).toMatchObject({
      ...{ memberNumber: member.number, number: 1, price: 4_500, state: "entered", version: 1 },
      pieces: { entered: 1, withMember: 1 },
    });
    expect(one.body.shownTag).toMatch(/^100-001-\d\d$/);
    const two = await own.post(items, body(), key);
    expect([two.status, two.body]).toEqual([201, one.body]);
    expect((await own.post(items, body({ price: 9_900 }), key)).status).toBe(422);
  });

  test.each<[string, object, string[]]>([
    ["a price as words", { price: "45.00" }, ["price"]],
    ["a fraction of a cent", { price: 4_500.5 }, ["price"]],
    ["a price below zero", { price: -4_500 }, ["price"]],
    ["a price of nothing", { price: 0 }, ["price"]],
    ["a number past all counting", { price: 1e300 }, ["price"]],
    ["too long a description", { description: "x".repeat(61) }, ["description"]],
    ["a NUL", { colours: "a\u0000b" }, ["colours"]],
    ["a fibre without a percentage", { fibres: [{ fibre: "wool" }] }, ["fibres.0.percent"]],
    ["no fibre", { fibres: [] }, ["fibres"]],
    ["pieces as text", { quantity: "2" }, ["quantity"]],
    ["a thousand pieces", { quantity: 1_000 }, ["quantity"]],
    ["an unknown kind", { kind: "castle" }, ["kind"]],
    ["an unknown member", { memberNumber: 9_998 }, ["memberNumber"]],
  ])("%s answers 400 and names the field", async (_words, more, named) => {
    const answer = await desk.post(items, body(more));
    expect(answer.status).toBe(400);
    expect(answer.headers["content-type"]).toContain("application/problem+json");
    expect(fields(answer)).toEqual(named);
  });

  test("an unknown field, sale, key and session are refused", async () => {
    expect((await own.post(items, body({ colour: "red" }))).status).toBe(400);
    expect((await own.post(`/api/sales/${v7()}/items`, body())).status).toBe(404);
    expect((await own.post("/api/sales/x/items", body())).status).toBe(400);
    expect((await own.post(items, body()).unset("idempotency-key")).status).toBe(400);
    expect((await own.post(items, body()).unset("authorization")).status).toBe(401);
  });

  test("only a helper enters for somebody else", async () => {
    const refused = await other.post(items, body({ memberNumber: member.number }));
    expect(refused.status).toBe(403);
    const helped = await desk.post(items, body({ memberNumber: member.number }));
    expect([helped.status, helped.body.memberId]).toEqual([201, member.id]);
  });

  test("in bulk, all or none", async () => {
    const bulk = (list: object[]) => ({ items: list, agreementVersion: 1 });
    const good = await own.post(`${items}/bulk`, bulk([scarf(), scarf({ quantity: 3 })]));
    expect([good.status, good.body.items.length]).toEqual([201, 2]);
    const bad = await own.post(`${items}/bulk`, bulk([scarf(), scarf({ price: 1 })]));
    expect([bad.status, fields(bad)]).toEqual([400, ["items.1.price"]]);
    expect((await own.post(`${items}/bulk`, bulk([]))).status).toBe(400);
    const far = Array.from({ length: 101 }, () => scarf());
    expect((await own.post(`${items}/bulk`, bulk(far))).status).toBe(400);
  });
});

describe("reading", () => {
  test("members get their own, helpers all, page by page without a gap or a double", async () => {
    const big = await buildSale(base.db, { name: "Big sale" });
    for (let index = 0; index < 3; index += 1) await enter(base.db, member, big);
    const path = `/api/sales/${big.id}/items`;
    const all = (await desk.get(path)).body.items.map(({ tag }: { tag: string }) => tag);
    const paged: string[] = [];
    let next: string | null = "";
    while (next !== null) {
      const page = await treasurer.get(`${path}?limit=2${next ? `&after=${next}` : ""}`);
      paged.push(...page.body.items.map(({ tag }: { tag: string }) => tag));
      next = page.body.next;
    }
    expect([all.length, paged]).toEqual([3, all]);
    expect((await other.get(path)).body).toEqual({ items: [], next: null });
    expect((await own.get(`${path}?q=${all[1]}`)).body.items.length).toBe(1);
    expect((await desk.get(`${path}?limit=0`)).status).toBe(400);
    expect((await desk.get(`${path}?place=attic`)).status).toBe(400);
  });

  test("one item: own or a helper's, else not there", async () => {
    const item = await enter(base.db, member, sale);
    expect((await own.get(`/api/items/${item.id}`)).status).toBe(200);
    expect((await treasurer.get(`/api/items/${item.id}`)).status).toBe(200);
    const foreign = await other.get(`/api/items/${item.id}`);
    const unknown = await other.get(`/api/items/${v7()}`);
    expect([foreign.status, foreign.body.detail]).toEqual([404, unknown.body.detail]);
  });

  test("by tag, for those who scan", async () => {
    const item = await enter(base.db, member, sale);
    expect((await desk.get(`/api/items/by-tag/${item.tag}`)).body.id).toBe(item.id);
    expect((await own.get(`/api/items/by-tag/${item.tag}`)).status).toBe(403);
    const wrong = await desk.get("/api/items/by-tag/10000199");
    expect([wrong.status, wrong.body.code]).toEqual([400, "wrong-check-digits"]);
  });
});

describe("changing", () => {
  test("from the version that was read; the second of two is refused", async () => {
    const item = await enter(base.db, member, sale);
    const path = `/api/items/${item.id}`;
    const change = (price: number) => own.patch(path, { ...scarf(), price, version: 1 });
    const both = await Promise.all([change(5_000), change(6_000)]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect((await other.patch(path, { ...scarf(), version: 2 })).status).toBe(404);
    expect((await own.patch(path, scarf())).status).toBe(400);
  });

  test("withdrawn, put back and copied", async () => {
    const item = await enter(base.db, member, sale);
    const path = `/api/items/${item.id}`;
    expect((await other.post(`${path}/withdrawal`)).status).toBe(404);
    expect((await own.post(`${path}/withdrawal`)).status).toBe(201);
    expect((await own.post(`${path}/withdrawal`)).body.code).toBe("already-done");
    expect((await own.delete(`${path}/withdrawal`)).body.state).toBe("entered");
    const copy = await own.post(`${path}/copies`, { saleId: sale.id });
    expect([copy.status, copy.body.description]).toEqual([201, "Twill scarf"]);
    expect(copy.body.tag).not.toBe(item.tag);
  });
});

describe("the desk", () => {
  test("takes in, turns away and hands back", async () => {
    await moveTo(base.db, sale, "entries-open");
    const item = await enter(base.db, member, sale, { quantity: 3 });
    await moveTo(base.db, sale, "selling");
    const checkIns = `/api/sales/${sale.id}/check-ins`;
    const pickUps = `/api/sales/${sale.id}/pick-ups`;
    const given = { tag: item.tag, decision: "accepted", quantity: 2 };
    expect((await own.post(checkIns, given)).status).toBe(403);
    const done = await desk.post(checkIns, given);
    expect([done.status, done.body.quantity]).toEqual([201, 2]);
    const away = await desk.post(checkIns, { tag: item.tag, decision: "turned-away" });
    expect([away.status, fields(away)]).toEqual([400, ["reason"]]);
    expect((await desk.post(checkIns, { ...given, quantity: 0 })).status).toBe(400);
    expect((await desk.post(checkIns, { ...given, decision: "eaten" })).status).toBe(400);
    const back = await desk.post(pickUps, { tag: item.tag, reason: "A moth hole", quantity: 1 });
    expect([back.status, back.body.quantity]).toEqual([201, 1]);
    const none = await desk.post(pickUps, { tag: item.tag });
    expect([none.status, fields(none)]).toEqual([400, ["reason"]]);
    await moveTo(base.db, sale, "entries-open");
  });
});
