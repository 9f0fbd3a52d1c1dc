import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildMember } from "../support/build.ts";
import { decide } from "../support/build-policy.ts";
import { buildSettling, closeTill, sell, settleNow } from "../support/build-settlement.ts";
import { buildPieces } from "../support/build-till.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let weaver: Client;
let reader: Client;
beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  weaver = await signedIn(base, hall.weaver);
  reader = await signedIn(base, await buildMember(base.db));
});
afterAll(() => base.close());

const towel = { materials: 631, notions: 75, setUp: 60, weaving: 60, finishing: 30, wage: 1_500 };

describe("POST /api/price-help", () => {
  test("answers with a price for each percentage, and what another price brings", async () => {
    const hours = [{ fromMinutes: 240, rate: 15_000 }];
    await decide(base.db, hall.sale, { rates: { hours } });
    const answer = await weaver.post("/api/price-help", { ...towel, price: 5_000 });
    expect(answer.status).toBe(200);
    expect(answer.body).toMatchObject({
      ...{ sale: { id: hall.sale.id, name: "Autumn sale" }, step: 100 },
      cost: { materials: 631, notions: 75, overhead: 0, entryFee: 0, unsold: 0, cost: 706 },
      ...{ warnings: [], notes: [], shifts: [] },
    });
    // 44.56 / 0.8 is 55.70, and / 0.85 it is 52.42.
    expect(answer.body.rows).toEqual([
      {
        ...{ why: "Under 4 hours of work", rate: 20_000, when: "now" },
        wanted: {
          price: 5_600,
          guild: 1_120,
          cardFee: 0,
          left: 4_480,
          pay: 1_509,
          verdict: "pays",
        },
        atPrice: {
          ...{ price: 5_000, guild: 1_000, cardFee: 0, left: 4_000 },
          ...{ pay: 1_317, verdict: "below-wage" },
        },
      },
      {
        ...{ why: "4 hours of work or more", rate: 15_000, when: "work" },
        wanted: { price: 5_300, guild: 795, cardFee: 0, left: 4_505, pay: 1_519, verdict: "pays" },
        atPrice: {
          ...{ price: 5_000, guild: 750, cardFee: 0, left: 4_250 },
          ...{ pay: 1_417, verdict: "below-wage" },
        },
      },
    ]);
  });

  test("needs no key, since it records nothing", async () => {
    const before = await base.db.audit.count();
    expect((await weaver.post("/api/price-help", towel, "same key 1")).status).toBe(200);
    expect((await weaver.post("/api/price-help", { ...towel, wage: 1 }, "same key 1")).status).toBe(
      200,
    );
    expect(await base.db.audit.count()).toBe(before);
  });

  test.each([
    ["no wage", { wage: undefined }, "wage"],
    ["half a minute", { weaving: 1.5 }, "weaving"],
    ["an unknown kind", { kind: "spaceship" }, "kind"],
    ["an unknown sale", { sale: "01900000-0000-7000-8000-000000000000" }, "sale"],
    ["no percentage elsewhere", { sale: "none" }, "rate"],
    ["a percentage above all", { rate: 100_001 }, "rate"],
    ["eleven of ten", { sellOfTen: 11 }, "sellOfTen"],
    [
      "nothing at all",
      { materials: 0, notions: 0, setUp: 0, weaving: 0, finishing: 0 },
      "materials",
    ],
  ])("%s is named", async (_what, more, field) => {
    const answer = await weaver.post("/api/price-help", { ...towel, ...more });
    expect([answer.status, answer.body.errors[0]?.field]).toEqual([400, field]);
  });
});

describe("GET /api/price-help/like-pieces", () => {
  const path = "/api/price-help/like-pieces?kind=scarf";

  test("tells a settled sale's pool to those for whom it is five of three others", async () => {
    expect((await reader.get(path)).body).toEqual({ pool: null });
    await base.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "selling" } });
    const third = await buildMember(base.db);
    const pieces = await buildPieces(base.db, hall.sale, third, [{ price: 7_000 }]);
    await sell(base.db, hall, pieces);
    await base.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "settling" } });
    expect((await reader.get(path)).body).toEqual({ pool: null });
    await closeTill(base.db, hall);
    await settleNow(base.db, hall);
    // 19.99 twice, 33.33, 45.00 and 70.00; the gift of 12.35 is no sale of hers.
    const pool = { alike: "kind", pieces: 5, low: 2_000, middle: 3_300, high: 4_500 };
    expect((await reader.get(path)).body).toEqual({ pool });
    expect((await (await signedIn(base, third)).get(path)).body).toEqual({ pool: null });
    expect((await weaver.get(path)).body).toEqual({ pool: null });
    const kept = await reader.get(`${path}&fibre=wool&size=20+x+180+cm&piecesInSet=1`);
    expect(kept.body.pool).toMatchObject({ alike: "fibre", pieces: 5 });
    expect((await reader.get(`${path}&piecesInSet=4`)).body).toEqual({ pool: null });
  });

  test("refuses what is no question", async () => {
    const none = await reader.get("/api/price-help/like-pieces");
    expect([none.status, none.body.errors[0]?.field]).toEqual([400, "kind"]);
    expect((await reader.get(`${path}&fibre=moonlight`)).status).toBe(400);
    expect((await reader.get(`${path}&piecesInSet=0`)).status).toBe(400);
    expect((await reader.get(`${path}&size=%00`)).status).toBe(400);
  });
});

describe("/api/me/wage", () => {
  test("is one's own: kept, kept again, forgotten", async () => {
    const own = async (client: Client) => (await client.get("/api/me/wage")).body;
    expect(await own(weaver)).toEqual({ wage: null });
    expect((await weaver.put("/api/me/wage", { wage: 1_500 })).body).toEqual({ kept: true });
    expect((await weaver.put("/api/me/wage", { wage: 1_800 })).status).toBe(200);
    expect([await own(weaver), await own(reader)]).toEqual([{ wage: 1_800 }, { wage: null }]);
    expect((await weaver.put("/api/me/wage", { wage: null })).body).toEqual({ kept: false });
    expect(await own(weaver)).toEqual({ wage: null });
  });

  test("with the same key once, and with other content refused", async () => {
    const key = "wage-key-1";
    await weaver.put("/api/me/wage", { wage: 1_500 }, key);
    await weaver.put("/api/me/wage", { wage: 1_900 });
    expect((await weaver.put("/api/me/wage", { wage: 1_500 }, key)).body).toEqual({ kept: true });
    expect((await weaver.get("/api/me/wage")).body).toEqual({ wage: 1_900 });
    expect((await weaver.put("/api/me/wage", { wage: 1_600 }, key)).status).toBe(422);
    const audits = await base.db.audit.findMany({ where: { deed: "keep-wage" } });
    for (const { detail } of audits) expect(detail).toEqual({});
  });

  test.each([0, -1, 1.5, 1_000_000_000, "15"])("%j is no wage", async (wage) => {
    const answer = await weaver.put("/api/me/wage", { wage });
    expect([answer.status, answer.body.errors[0]?.field]).toEqual([400, "wage"]);
  });
});
