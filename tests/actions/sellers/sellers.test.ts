import { v7 } from "uuid";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { setManySellers } from "../../../src/actions/sellers/set-many-sellers.ts";
import { setSeller } from "../../../src/actions/sellers/set-seller.ts";
import { tickShift } from "../../../src/actions/shifts/tick-shift.ts";
import type { ManySellersInput, SellerInput } from "../../../src/contract/seller.ts";
import { findSeller, listSellers } from "../../../src/database/seller-list.ts";
import type { Result } from "../../../src/rules/problem.ts";
import { deedOf } from "../../support/build.ts";
import { moveTo } from "../../support/build-items.ts";
import { done } from "../../support/build-settlement.ts";
import { buildHelpers, type Helpers, hoursPolicy, plan } from "../../support/build-shifts.ts";
import { freshDatabase, type TestDatabase } from "../../support/database.ts";

let base: TestDatabase;
let people: Helpers;
beforeEach(async () => {
  await base?.drop();
  base = await freshDatabase();
  people = await buildHelpers(base.db);
  await hoursPolicy(base.db, people.sale.id);
});
afterAll(() => base.drop());

const code = (result: Result<unknown>) => (result.ok ? "ok" : result.problem.code);
const set = (more: Partial<SellerInput> = {}, key?: string) =>
  setSeller(
    deedOf(base.db, people.chair, key),
    { saleId: people.sale.id, memberId: people.weaver.id },
    {
      ...{ visitor: false, committee: false, classCode: null, payMethod: null, payAll: false },
      ...{ version: 0, ...more },
    },
  );
const setMany = (more: Partial<ManySellersInput> = {}, key?: string) =>
  setManySellers(deedOf(base.db, people.chair, key), people.sale.id, {
    memberIds: [people.weaver.id, people.other.id],
    ...{ change: "committee" as const, on: true, classCode: null, ...more },
  });
const seller = () => findSeller(base.db, people.sale.id, people.weaver.id);

describe("one member's terms", () => {
  test("are noted from nothing on, and decide the percentage in words", async () => {
    expect(await seller()).toMatchObject({ version: 0, rateWords: "30 %: under 2 hours of work" });
    done(await set({ committee: true, payMethod: "cash", payAll: true }));
    expect(await seller()).toMatchObject({
      ...{ version: 1, committee: true, payMethod: "cash", payAll: true, rate: 10_000 },
      rateWords: "10 %: on the committee",
    });
    done(await set({ classCode: "honorary", version: 1 }));
    expect(await seller()).toMatchObject({ version: 2, rateWords: "5 %: Honorary members" });
  });

  test.each([
    [119, "30 %: under 2 hours of work"],
    [120, "20 %: 2 hours of work or more"],
  ])("%i ticked minutes: %s", async (minutes, words) => {
    const { id: shiftId } = await plan(base.db, people);
    const tick = { shiftId, mark: "worked" as const, minutes, version: 1 };
    done(await tickShift(deedOf(base.db, people.desk), tick, new Date()));
    expect(await seller()).toMatchObject({ minutesWorked: minutes, rateWords: words });
  });

  test("the same key notes once; of two first notes at once one wins; so of two later", async () => {
    const key = v7();
    expect(done(await set({ visitor: true }, key))).toEqual(
      done(await set({ visitor: true }, key)),
    );
    expect(code(await set({ committee: true }))).toBe("changed-meanwhile");
    const later = await Promise.all([
      set({ committee: true, version: 1 }),
      set({ visitor: true, version: 1 }),
    ]);
    expect(later.map(code).sort()).toEqual(["changed-meanwhile", "ok"]);
    await base.db.saleSeller.deleteMany();
    const first = await Promise.all([set({ committee: true }), set({ visitor: true })]);
    expect(first.map(code).sort()).toEqual(["changed-meanwhile", "ok"]);
  });

  test("a class that the policy does not have, and a member who is not there, are refused", async () => {
    expect(await set({ classCode: "founders" })).toMatchObject({
      ok: false,
      problem: { errors: [{ field: "classCode" }] },
    });
    people.weaver.id = v7();
    expect(code(await set())).toBe("not-found");
  });

  test("a closed sale keeps its terms", async () => {
    await moveTo(base.db, people.sale, "closed");
    expect([code(await set()), code(await setMany())]).toEqual(["stage-closed", "stage-closed"]);
    expect(await base.db.saleSeller.count()).toBe(0);
  });
});

describe("several members at once", () => {
  test("get the one change, and keep everything else that was noted", async () => {
    done(await set({ payMethod: "transfer", payAll: true }));
    expect(done(await setMany())).toEqual({ members: 2 });
    expect(await seller()).toMatchObject({
      ...{ committee: true, payMethod: "transfer", payAll: true, version: 2 },
    });
    done(await setMany({ on: false }));
    done(await setMany({ change: "class", classCode: "honorary" }));
    expect(await seller()).toMatchObject({ committee: false, classCode: "honorary", payAll: true });
  });

  test("two at once both count, and the same key counts once", async () => {
    const key = v7();
    await Promise.all([
      setMany({}, key),
      setMany({}, key),
      setMany({ change: "visitor", memberIds: [people.other.id, people.weaver.id] }),
    ]);
    expect(await seller()).toMatchObject({ committee: true, visitor: true, version: 3 });
  });

  test("with one who is not there nobody is changed", async () => {
    expect(code(await setMany({ memberIds: [people.weaver.id, v7()] }))).toBe("invalid-input");
    expect(await base.db.saleSeller.count()).toBe(0);
  });
});

test("the list pages by number, finds names and numbers, and tells who sells here", async () => {
  const { db } = base;
  await setMany();
  const list = (more: object = {}) => listSellers(db, people.sale.id, { limit: 50, ...more });
  const numbers = async (more: object = {}) =>
    (await list(more)).items.map(({ memberNumber }) => memberNumber);
  const { weaver, other } = people;
  expect(await numbers({ inSale: true })).toEqual([weaver.number, other.number]);
  expect(await numbers()).toEqual([100, 101, 102, 103, 104]);
  expect(await numbers({ q: "weaver 103" })).toEqual([103]);
  expect(await numbers({ q: "101" })).toEqual([101]);
  const first = await list({ limit: 2 });
  expect([first.next, await numbers({ after: first.next })]).toEqual([101, [102, 103, 104]]);
});
