import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type EnrolmentTry, enrolTill } from "../../src/actions/enrol-till.ts";
import { makeTillCode } from "../../src/actions/make-till-code.ts";
import { markTillLost } from "../../src/actions/mark-till-lost.ts";
import { recordFact } from "../../src/actions/record-fact.ts";
import { deviceOfToken } from "../../src/database/till-devices.ts";
import { buildMember, deedOf } from "../support/build.ts";
import { done } from "../support/build-settlement.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { lineOf, saleFact } from "../support/till-facts.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 1);
});
afterAll(() => base.drop());

let count = 1;
async function freshTill() {
  count += 1;
  return base.db.till.create({
    data: { saleId: hall.sale.id, number: count, name: `Till ${count}` },
  });
}
const codeFor = (tillId: string, saleId = hall.sale.id, now = new Date()) =>
  makeTillCode(deedOf(base.db, hall.chair), { saleId, tillId, now });
const code = async (tillId: string) => done(await codeFor(tillId)).code;
let tokens = 0;
const enrol = (given: Partial<EnrolmentTry> & { code: string }) => {
  tokens += 1;
  return enrolTill(base.db, {
    name: "Grey laptop",
    tokenHash: `token ${tokens}`,
    source: `192.0.2.${tokens}`,
    requestId: "test",
    now: new Date(),
    ...given,
  });
};
const codeOf = (result: { ok: boolean; problem?: { code: string } }) =>
  result.ok ? "ok" : result.problem?.code;

describe("a code", () => {
  test("makes one device the till, once, under the name of the chair", async () => {
    const till = await freshTill();
    const given = await code(till.id);
    expect(given).toMatch(/^[2-9A-HJKMNP-Z]{8}$/);
    const enrolled = done(await enrol({ code: given.toLowerCase(), tokenHash: "first" }));
    expect(enrolled).toEqual({
      tillId: till.id,
      number: till.number,
      name: till.name,
      saleId: hall.sale.id,
    });
    expect(await deviceOfToken(base.db, "first")).toMatchObject({ tillId: till.id, unsent: 0 });
    expect(codeOf(await enrol({ code: given }))).toBe("link-used");
    const audits = await base.db.audit.findMany({ where: { subjectId: till.id } });
    expect(audits.map(({ deed, byId }) => [deed, byId])).toEqual([
      ["make-till-code", hall.chair.id],
      ["enrol-till", hall.chair.id],
    ]);
    expect(JSON.stringify(audits.map(({ detail }) => detail))).not.toContain(given);
  });

  test("used by eight devices at once makes one of them the till", async () => {
    const till = await freshTill();
    const given = await code(till.id);
    const names = Array.from({ length: 8 }, (_, index) => `Device ${index}`);
    const results = await Promise.all(names.map((name) => enrol({ code: given, name })));
    expect(results.map(codeOf).sort()).toEqual([...Array(7).fill("link-used"), "ok"]);
    const device = await base.db.tillDevice.findUniqueOrThrow({ where: { tillId: till.id } });
    expect(device.name).toBe(names[results.findIndex(({ ok }) => ok)]);
  });

  test("ends the one before it", async () => {
    const till = await freshTill();
    const [first, second] = [await code(till.id), await code(till.id)];
    expect(codeOf(await enrol({ code: first }))).toBe("link-used");
    expect(codeOf(await enrol({ code: second }))).toBe("ok");
  });

  test("counts for fifteen minutes", async () => {
    const till = await freshTill();
    const now = new Date();
    const given = done(await codeFor(till.id, hall.sale.id, now));
    expect(new Date(given.expiresAt).getTime() - now.getTime()).toBe(900_000);
    const at = (milliseconds: number) => new Date(now.getTime() + milliseconds);
    expect(codeOf(await enrol({ code: given.code, now: at(900_000) }))).toBe("link-used");
    expect(codeOf(await enrol({ code: given.code, now: at(899_999) }))).toBe("ok");
  });

  test("does not outlive the office of its chair", async () => {
    const till = await freshTill();
    const former = await buildMember(base.db, ["chair"]);
    const given = { saleId: hall.sale.id, tillId: till.id, now: new Date() };
    const made = done(await makeTillCode(deedOf(base.db, former), given));
    await base.db.member.update({ where: { id: former.id }, data: { roles: ["member"] } });
    expect(codeOf(await enrol({ code: made.code }))).toBe("link-used");
    expect(await base.db.tillDevice.count({ where: { tillId: till.id } })).toBe(0);
  });

  test("is not made for an unknown till or a closed sale", async () => {
    const till = await freshTill();
    const nobody = "01900000-0000-7000-8000-000000000000";
    expect(codeOf(await codeFor(nobody))).toBe("not-found");
    expect(codeOf(await codeFor(till.id, nobody))).toBe("not-found");
    const free = await freshTill();
    await base.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "closed" } });
    expect(codeOf(await codeFor(free.id))).toBe("stage-closed");
    await base.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "selling" } });
  });
});

describe("a lost answer", () => {
  const attempt = () => ({ attempt: crypto.randomUUID() });

  test("is answered again with a fresh token, until the first one is used", async () => {
    const till = await freshTill();
    const same = { code: await code(till.id), ...attempt() };
    done(await enrol({ ...same, tokenHash: "never arrived" }));
    expect(done(await enrol({ ...same, tokenHash: "arrived" }))).toMatchObject({ tillId: till.id });
    expect(await deviceOfToken(base.db, "never arrived")).toBeUndefined();
    expect(await deviceOfToken(base.db, "arrived")).toMatchObject({ tillId: till.id });
    await base.db.tillDevice.update({
      where: { tillId: till.id },
      data: { lastSeenAt: new Date() },
    });
    expect(codeOf(await enrol({ ...same, tokenHash: "too late" }))).toBe("link-used");
    expect(await deviceOfToken(base.db, "arrived")).toBeDefined();
    expect(await base.db.audit.count({ where: { deed: "enrol-till", subjectId: till.id } })).toBe(
      1,
    );
  });

  test("is no way in for another device, nor for another code", async () => {
    const [till, other] = [await freshTill(), await freshTill()];
    const same = { code: await code(till.id), ...attempt() };
    done(await enrol({ ...same, tokenHash: "mine" }));
    expect(codeOf(await enrol({ ...same, ...attempt() }))).toBe("link-used");
    expect(codeOf(await enrol({ ...same, code: await code(other.id) }))).toBe("key-reused");
    expect(await deviceOfToken(base.db, "mine")).toMatchObject({ tillId: till.id });
  });
});

test("guesses from one address wait longer and longer; another address does not", async () => {
  const till = await freshTill();
  const given = await code(till.id);
  const now = new Date();
  const guess = () => enrol({ code: "ABCD2345", source: "203.0.113.9", now });
  const first = [];
  for (let index = 0; index < 20; index += 1) first.push(codeOf(await guess()));
  expect(new Set(first)).toEqual(new Set(["link-used"]));
  expect(codeOf(await guess())).toBe("too-many-tries");
  expect(codeOf(await enrol({ code: given, source: "203.0.113.9", now }))).toBe("too-many-tries");
  expect(codeOf(await enrol({ code: given, source: "203.0.113.10", now }))).toBe("ok");
});

describe("a lost device", () => {
  const lose = (tillId: string, reason = "Left on a train", saleId = hall.sale.id, key?: string) =>
    markTillLost(deedOf(base.db, hall.chair, key), { saleId, tillId, reason });

  test("is shut out at once and noted once, however often it is sent", async () => {
    const till = await freshTill();
    done(await enrol({ code: await code(till.id), tokenHash: "gone" }));
    await base.db.tillDevice.update({ where: { tillId: till.id }, data: { unsent: 3 } });
    const twins = await Promise.all([lose(till.id), lose(till.id)]);
    expect(twins.map(codeOf).sort()).toEqual(["already-done", "ok"]);
    expect(await deviceOfToken(base.db, "gone")).toBeUndefined();
    const audits = await base.db.audit.findMany({
      where: { deed: "mark-till-lost", subjectId: till.id },
    });
    expect(audits).toHaveLength(1);
    expect(audits[0]?.detail).toMatchObject({ reason: "Left on a train", unsent: 3 });
  });

  test("answers the same under the same key", async () => {
    const till = await freshTill();
    done(await enrol({ code: await code(till.id) }));
    const key = `lost ${till.id}`;
    const first = done(await lose(till.id, "Broken", hall.sale.id, key));
    expect(done(await lose(till.id, "Broken", hall.sale.id, key))).toEqual(first);
  });

  test("is found only in its own sale, and leaves its till to no other device", async () => {
    const till = await freshTill();
    expect(codeOf(await lose(till.id))).toBe("not-found");
    done(await enrol({ code: await code(till.id) }));
    const nobody = "01900000-0000-7000-8000-000000000000";
    expect(codeOf(await lose(till.id, "x", nobody))).toBe("not-found");
    done(await lose(till.id));
    const stranger = await enrol({ code: await code(till.id), tokenHash: "stranger" });
    expect(codeOf(stranger)).toBe("already-done");
    expect(await deviceOfToken(base.db, "stranger")).toBeUndefined();
  });
});

describe("the device that is the till already", () => {
  test("comes back by a code, also when it was noted as lost, and its old cookie is nothing", async () => {
    const till = await freshTill();
    done(await enrol({ code: await code(till.id), tokenHash: "before" }));
    done(
      await markTillLost(deedOf(base.db, hall.chair), {
        ...{ saleId: hall.sale.id, tillId: till.id, reason: "Left on a train" },
      }),
    );
    const keeps = { tillId: till.id, lastNumber: 4 };
    const back = { code: await code(till.id), keeps, attempt: crypto.randomUUID() };
    done(await enrol({ ...back, tokenHash: "never arrived" }));
    done(await enrol({ ...back, tokenHash: "after" }));
    expect(await deviceOfToken(base.db, "after")).toMatchObject({ tillId: till.id });
    for (const token of ["before", "never arrived"])
      expect(await deviceOfToken(base.db, token)).toBeUndefined();
    expect(codeOf(await enrol({ ...back, attempt: crypto.randomUUID() }))).toBe("link-used");
    const device = await base.db.tillDevice.findUniqueOrThrow({ where: { tillId: till.id } });
    expect(device.lostAt).toBeNull();
  });

  test("is told when the code is another till's, or when it knows fewer receipts than the server", async () => {
    const [till, other] = [hall.tills[0]!, await freshTill()];
    done(await enrol({ code: await code(till.id) }));
    const [piece] = await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 900 }]);
    const from = { db: base.db, tillId: till.id, saleId: hall.sale.id, requestId: "test" };
    done(await recordFact(from, saleFact(hall, till, 1, [lineOf(piece!)])));
    const behind = { tillId: till.id, lastNumber: 0 };
    expect(codeOf(await enrol({ code: await code(till.id), keeps: behind }))).toBe("already-done");
    const level = { tillId: till.id, lastNumber: 1 };
    const elsewhere = await enrol({ code: await code(other.id), keeps: level });
    expect(codeOf(elsewhere)).toBe("already-done");
    expect(elsewhere.ok ? "" : elsewhere.problem.detail).toContain(`till ${other.number}`);
    expect(codeOf(await enrol({ code: await code(till.id), keeps: level }))).toBe("ok");
  });
});
