import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";

let base: TestApp;
let chair: Client;
let member: Client;
const unknownId = "01900000-0000-7000-8000-000000000000";

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
  member = await signedIn(base, await buildMember(base.db, ["member"]));
});
afterAll(() => base.close());

const plan = {
  name: "Spring fair",
  firstDay: "2027-05-14",
  lastDay: "2027-05-15",
  entryDeadline: "2027-05-01T23:59:00-05:00",
  guildRate: 25_000,
  agreement: "My own work.",
};
const fieldsOf = (answer: { body: { errors: { field: string }[] } }) =>
  answer.body.errors.map(({ field }) => field);

describe("sales", () => {
  test("are planned, read, changed and moved", async () => {
    const made = await chair.post("/api/sales", plan);
    expect(made.status).toBe(201);
    expect(made.body).toMatchObject({ guildRate: 25_000, priceStep: 1, stage: "planning" });
    const path = `/api/sales/${made.body.id}`;
    const changed = await chair.patch(path, { version: 1, itemLimit: 30 });
    expect(changed.body).toMatchObject({ itemLimit: 30, version: 2, name: "Spring fair" });
    const moved = await chair.post(`${path}/moves`, { to: "entries-open", version: 2 });
    expect(moved.status).toBe(201);
    expect((await member.get(path)).body).toEqual(moved.body);
    const till = await chair.post(`${path}/tills`, { name: "Front" });
    expect(till.body.number).toBe(1);
    await chair.patch(`${path}/tills/${till.body.id}`, { name: "Back" });
    expect((await chair.get(`${path}/tills`)).body.items).toMatchObject([
      { name: "Back", open: false },
    ]);
  });

  test("the same key plans one sale, another content under it is refused", async () => {
    const both = await Promise.all([1, 2].map(() => chair.post("/api/sales", plan, "sale-key-1")));
    expect(both[0]?.body.id).toBe(both[1]?.body.id);
    const other = await chair.post("/api/sales", { ...plan, name: "Other" }, "sale-key-1");
    expect(other.status).toBe(422);
    expect(other.body.code).toBe("key-reused");
  });

  test.each([
    [{ guildRate: "25" }, "guildRate"],
    [{ guildRate: 12.5 }, "guildRate"],
    [{ guildRate: 100_001 }, "guildRate"],
    [{ priceFloor: -1 }, "priceFloor"],
    [{ priceStep: 0 }, "priceStep"],
    [{ firstDay: "14.5.2027" }, "firstDay"],
    [{ lastDay: "2027-05-13" }, "lastDay"],
    [{ entryDeadline: "2027-05-01T23:59:00" }, "entryDeadline"],
    [{ kindLimits: [{ kindId: unknownId, most: 1 }] }, "kindLimits"],
    [{ name: "x\u0000y" }, "name"],
    [{ stage: "closed" }, ""],
  ])("%o is refused with the field named", async (wrong, field) => {
    const answer = await chair.post("/api/sales", { ...plan, ...wrong });
    expect(answer.status).toBe(400);
    expect(answer.headers["content-type"]).toContain("application/problem+json");
    expect(fieldsOf(answer)).toContain(field);
  });

  test("a blocked step says what is to be finished", async () => {
    const sale = await buildSale(base.db, { stage: "entries-closed" });
    const step = { to: "selling", version: 1 };
    const answer = await chair.post(`/api/sales/${sale.id}/moves`, step);
    expect([answer.status, answer.body.code]).toEqual([409, "still-open"]);
    const back = await chair.post(`/api/sales/${sale.id}/moves`, {
      to: "entries-open",
      version: 1,
    });
    expect(fieldsOf(back)).toEqual(["reason"]);
  });

  test("unknown and impossible ids", async () => {
    for (const path of ["", "/tills", "/agreement"]) {
      expect((await chair.get(`/api/sales/${unknownId}${path}`)).status, path).toBe(404);
      expect((await chair.get(`/api/sales/12${path}`)).status, path).toBe(400);
    }
    expect((await chair.patch(`/api/sales/${unknownId}`, { version: 1 })).status).toBe(404);
  });

  test("the list goes on page by page without a gap or a twin", async () => {
    await Promise.all(Array.from({ length: 7 }, () => buildSale(base.db)));
    const all = await base.db.sale.count();
    const seen: string[] = [];
    let after = "";
    for (let pages = 0; pages < 20; pages += 1) {
      const page = await member.get(`/api/sales?limit=3${after}`);
      seen.push(...page.body.items.map((sale: { id: string }) => sale.id));
      if (!page.body.next) break;
      after = `&after=${page.body.next}`;
    }
    expect(seen).toHaveLength(all);
    expect(new Set(seen).size).toBe(all);
  });
});

test("the agreement is accepted by version, and a new wording asks again", async () => {
  const sale = await buildSale(base.db);
  const path = `/api/sales/${sale.id}`;
  expect((await member.get(`${path}/agreement`)).body).toMatchObject({
    version: 1,
    acceptedAt: null,
    accepted: 0,
  });
  const accepted = await member.post(`${path}/acceptances`, { version: 1 });
  expect(accepted.status).toBe(201);
  const read = await member.get(`${path}/agreement`);
  expect(read.body.acceptedAt).toBe(accepted.body.acceptedAt);
  const wording = { text: "More words.", replaces: 1 };
  expect((await chair.post(`${path}/agreement`, wording)).body).toEqual({ version: 2 });
  expect((await member.post(`${path}/acceptances`, { version: 1 })).status).toBe(409);
  expect((await member.post(`${path}/acceptances`, { version: 2.5 })).status).toBe(400);
});
