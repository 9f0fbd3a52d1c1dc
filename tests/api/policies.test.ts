import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { firstPolicy } from "../../src/rules/policy/policy.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildSettling } from "../support/build-settlement.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let treasurer: Client;
let weaver: Client;
let path: string;
beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
  path = `/api/sales/${hall.sale.id}`;
});
afterAll(() => base.close());

const quarter = firstPolicy(25_000);
const fieldsOf = (answer: { body: { errors: { field: string }[] } }) =>
  answer.body.errors.map(({ field }) => field);

describe("policies", () => {
  test("members read what holds, in figures and words, with their own percentage", async () => {
    const answer = await weaver.get(`${path}/policy`);
    expect(answer.body).toMatchObject({
      ...{ version: 1, policy: firstPolicy(20_000), yours: "20 %: the rate for everyone" },
    });
    expect(answer.body.words[0]).toMatchObject({ title: "The guild's percentage" });
  });

  test("the effect is worked out for every member, a page at a time, and keeps nothing", async () => {
    // 84.98 at 20 % gives 17.00 in two lines, at 25 % 11.25 + 10.00; 33.33 gives 6.67 and 8.33.
    const first = await treasurer.post(`${path}/policy/effect?limit=1`, { policy: quarter });
    expect(first.status).toBe(200);
    expect(first.body).toMatchObject({
      shownOn: { saleId: hall.sale.id, name: "Autumn sale" },
      guild: { change: 425 + 166 },
      items: [
        {
          ...{ memberNumber: hall.weaver.number, memberName: hall.weaver.name, change: -425 },
          ...{ before: { guildShare: 1_700 }, after: { guildShare: 2_125 } },
        },
      ],
      next: "1",
    });
    const second = await treasurer.post(`${path}/policy/effect?after=1`, { policy: quarter });
    expect(second.body.items).toMatchObject([{ memberNumber: hall.other.number, change: -166 }]);
    expect(second.body.next).toBeNull();
    expect((await treasurer.get(`${path}/policy`)).body.version).toBe(1);
  });

  test("a new version is decided once, and all of them are listed with who and why", async () => {
    const body = { policy: quarter, replaces: 1, reason: "Heating" };
    const made = await treasurer.post(`${path}/policies`, body, "the-key-of-this");
    expect([made.status, made.body]).toEqual([201, { version: 2 }]);
    const again = await treasurer.post(`${path}/policies`, body, "the-key-of-this");
    expect(again.body).toEqual({ version: 2 });
    const late = await treasurer.post(`${path}/policies`, body);
    expect([late.status, late.body.code]).toEqual([409, "changed-meanwhile"]);
    const list = await treasurer.get(`${path}/policies?limit=1`);
    expect(list.body).toMatchObject({
      items: [{ version: 2, reason: "Heating", byName: hall.treasurer.name, policy: quarter }],
      next: "2",
    });
    const rest = await treasurer.get(`${path}/policies?after=2`);
    expect(rest.body).toMatchObject({ items: [{ version: 1, reason: "" }], next: null });
    expect((await weaver.get(path)).body.guildRate).toBe(25_000);
  });

  test("what does not fit is named by its field, and nothing of it is kept", async () => {
    const withRates = (more: object) => ({ ...quarter, rates: { ...quarter.rates, ...more } });
    const steep = withRates({ hours: [{ fromMinutes: 60, rate: 100_001 }] });
    const shape = await treasurer.post(`${path}/policies`, { policy: steep, replaces: 2 });
    expect([shape.status, fieldsOf(shape)]).toEqual([400, ["policy.rates.hours.0.rate"]]);
    const ships = withRates({ kinds: [{ kind: "ships", rate: 1_000, visitorsToo: true }] });
    const rule = await treasurer.post(`${path}/policy/effect`, { policy: ships });
    expect([rule.status, fieldsOf(rule)]).toEqual([400, ["policy.rates.kinds.0.kind"]]);
    const more = { policy: { ...quarter, more: 1 }, replaces: 2 };
    expect((await treasurer.post(`${path}/policies`, more)).status).toBe(400);
    expect(await base.db.salePolicy.count({ where: { saleId: hall.sale.id } })).toBe(2);
  });

  test("members decide nothing and see no versions; an unknown sale is not found", async () => {
    expect((await weaver.get(`${path}/policies`)).status).toBe(403);
    expect((await weaver.post(`${path}/policy/effect`, { policy: quarter })).status).toBe(403);
    const body = { policy: quarter, replaces: 2, reason: "Mine" };
    expect((await weaver.post(`${path}/policies`, body)).status).toBe(403);
    const unknown = "/api/sales/01900000-0000-7000-8000-000000000000";
    expect((await weaver.get(`${unknown}/policy`)).status).toBe(404);
    expect((await treasurer.post(`${unknown}/policies`, body)).status).toBe(404);
  });
});
