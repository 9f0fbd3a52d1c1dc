import { v7 } from "uuid";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { changeShift, withdrawShift } from "../../../src/actions/shifts/change-shift.ts";
import { planShift } from "../../../src/actions/shifts/plan-shift.ts";
import { type Tick, tickShift } from "../../../src/actions/shifts/tick-shift.ts";
import type { ShiftInput } from "../../../src/contract/shift.ts";
import { sellersOf } from "../../../src/database/sellers.ts";
import type { Result } from "../../../src/rules/problem.ts";
import { deedOf } from "../../support/build.ts";
import { moveTo } from "../../support/build-items.ts";
import { done } from "../../support/build-settlement.ts";
import { buildHelpers, type Helpers, plan, shiftOf } from "../../support/build-shifts.ts";
import { freshDatabase, type TestDatabase } from "../../support/database.ts";

let base: TestDatabase;
let people: Helpers;
beforeEach(async () => {
  await base?.drop();
  base = await freshDatabase();
  people = await buildHelpers(base.db);
});
afterAll(() => base.drop());

const fields = (result: Result<unknown>) =>
  result.ok ? [] : result.problem.errors.map(({ field }) => field);
const code = (result: Result<unknown>) => (result.ok ? "ok" : result.problem.code);
const now = new Date("2026-11-27T18:40:00Z");

const planned = (more: Partial<ShiftInput> = {}, key?: string) =>
  planShift(deedOf(base.db, people.desk, key), people.sale.id, shiftOf(people.weaver.number, more));
const change = (id: string, version: number, more: Partial<ShiftInput> = {}) =>
  changeShift(deedOf(base.db, people.desk), id, {
    ...shiftOf(people.weaver.number, more),
    version,
  });
const tick = (shiftId: string, more: Partial<Tick> = {}, key?: string) =>
  tickShift(
    deedOf(base.db, people.desk, key),
    { shiftId, mark: "worked", minutes: 210, version: 1, ...more },
    now,
  );
const worked = async () => {
  const [seller] = await sellersOf(base.db, people.sale.id, people.weaver.id);
  return [seller?.seller.minutesWorked, seller?.facts.shiftsMissed];
};

describe("planning a shift", () => {
  test("keeps the instant and the minutes, also over midnight; the same key plans one", async () => {
    const key = v7();
    const late = { start: "22:00", end: "01:00" };
    const [one, two] = [await planned(late, key), await planned(late, key)];
    expect(done(two)).toEqual(done(one));
    expect(await base.db.shift.findMany()).toMatchObject([
      { minutes: 180, startsAt: new Date("2026-11-28T04:00:00Z"), byId: people.desk.id },
    ]);
    expect(await base.db.audit.count({ where: { deed: "plan-shift" } })).toBe(1);
  });

  test.each<[string, Partial<ShiftInput>, string]>([
    ["an unknown member", { member: 9_999 }, "member"],
    ["a day of another year", { day: "2028-11-27" }, "day"],
    ["an end that is the start", { end: "09:00" }, "end"],
    ["more hours than anybody works", { end: "08:00" }, "end"],
  ])("%s is refused at its field", async (_what, wrong, field) => {
    expect(fields(await planned(wrong))).toEqual([field]);
    expect(await base.db.shift.count()).toBe(0);
  });

  test("nobody works in two places at once, but one shift may follow another", async () => {
    await plan(base.db, people);
    expect(fields(await planned({ start: "12:00", end: "14:00" }))).toEqual(["start"]);
    done(await planned({ start: "12:30", end: "14:00" }));
    done(await planned({ standIn: "A cousin" }));
    done(await planned({ member: people.other.number }));
    expect(await base.db.shift.count()).toBe(4);
  });

  test("two at once with different keys plan one", async () => {
    const both = await Promise.all([planned({}, v7()), planned({}, v7())]);
    expect(both.map(code).sort()).toEqual(["invalid-input", "ok"]);
    expect(await base.db.shift.count()).toBe(1);
  });

  test("a closed sale keeps its shifts as they are", async () => {
    const { id } = await plan(base.db, people);
    await moveTo(base.db, people.sale, "closed");
    const given = { shiftId: id, version: 1 };
    const all = [
      await planned({ start: "13:00", end: "14:00" }),
      await change(id, 1, { task: "Greeter" }),
      await tick(id),
      await withdrawShift(deedOf(base.db, people.desk), given),
    ];
    expect(all.map(code)).toEqual(Array(4).fill("stage-closed"));
  });
});

describe("changing and withdrawing", () => {
  test("a change moves the shift, past its own time, and an older version is refused", async () => {
    const { id } = await plan(base.db, people);
    expect(done(await change(id, 1, { start: "10:00" }))).toEqual({ id, version: 2 });
    expect(code(await change(id, 1, { start: "11:00" }))).toBe("changed-meanwhile");
    expect(await base.db.shift.findMany()).toMatchObject([{ minutes: 150, version: 2 }]);
  });

  test("of two changes at once one wins", async () => {
    const { id } = await plan(base.db, people);
    const both = await Promise.all([
      change(id, 1, { task: "Greeter" }),
      change(id, 1, { task: "Wrapping" }),
    ]);
    expect(both.map(code).sort()).toEqual(["changed-meanwhile", "ok"]);
  });

  test("a withdrawn shift counts for nothing and frees its time; a ticked one stays", async () => {
    const { id } = await plan(base.db, people);
    const given = { shiftId: id, version: 1 };
    done(await withdrawShift(deedOf(base.db, people.desk), given));
    expect(code(await withdrawShift(deedOf(base.db, people.desk), given))).toBe("not-found");
    expect(code(await tick(id, { version: 2 }))).toBe("not-found");
    const again = await plan(base.db, people);
    done(await tick(again.id));
    const late = { shiftId: again.id, version: 2 };
    expect(code(await withdrawShift(deedOf(base.db, people.desk), late))).toBe("already-done");
    expect(code(await change(again.id, 2))).toBe("already-done");
  });
});

describe("ticking", () => {
  test("keeps who and when; the minutes count, and a correction replaces them", async () => {
    const { id } = await plan(base.db, people);
    done(await tick(id));
    expect(await base.db.shift.findMany()).toMatchObject([
      { mark: "worked", minutesWorked: 210, markedById: people.desk.id, markedAt: now },
    ]);
    expect(await worked()).toEqual([210, 0]);
    done(await tick(id, { mark: "missed", minutes: null, version: 2 }));
    expect(await worked()).toEqual([0, 1]);
    done(await tick(id, { mark: "open", minutes: null, version: 3 }));
    expect(await worked()).toEqual([0, 0]);
    expect(await base.db.shift.findMany()).toMatchObject([{ mark: null, markedById: null }]);
    expect(await base.db.audit.count({ where: { deed: "tick-shift" } })).toBe(3);
  });

  test("the same key ticks once; of two thumbs at once one wins", async () => {
    const { id } = await plan(base.db, people);
    const key = v7();
    expect(done(await tick(id, {}, key))).toEqual(done(await tick(id, {}, key)));
    const missed = { mark: "missed" as const, minutes: null, version: 2 };
    const both = await Promise.all([tick(id, missed), tick(id, { minutes: 60, version: 2 })]);
    expect(both.map(code).sort()).toEqual(["changed-meanwhile", "ok"]);
    expect(await base.db.shift.findMany()).toMatchObject([{ version: 3 }]);
  });

  test("may be put right while the sale is being settled", async () => {
    const { id } = await plan(base.db, people);
    await moveTo(base.db, people.sale, "settling");
    done(await tick(id));
    done(await tick(id, { minutes: 180, version: 2 }));
    expect(await worked()).toEqual([180, 0]);
  });
});
