import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { changePolicy } from "../../src/actions/change-policy.ts";
import type { PolicyChangeInput } from "../../src/contract/policy.ts";
import { policiesOf, policyOf } from "../../src/database/policies.ts";
import { firstPolicy, type Policy } from "../../src/rules/policy/policy.ts";
import type { Result } from "../../src/rules/problem.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { buildSettling, done, settleNow } from "../support/build-settlement.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let chair: Awaited<ReturnType<typeof buildMember>>;
beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  chair = await buildMember(base.db, ["chair"]);
});
afterAll(() => base.drop());

type Given = PolicyChangeInput["policy"];

/** 30 % without a shift and 20 % with one: found in a weavers' guild's printed sale rules. */
const byShifts = (ordinary = 30_000): Given => {
  const policy = firstPolicy(ordinary) as Given;
  policy.rates.hours = [{ fromMinutes: 120, rate: 20_000 }];
  return policy;
};
const change = (saleId: string, more: Partial<PolicyChangeInput> = {}, key?: string) =>
  changePolicy(deedOf(base.db, chair, key), {
    ...{ saleId, policy: byShifts(), replaces: 1, reason: "Decided in March" },
    ...more,
  });
const planned = () => buildSale(base.db, { stage: "planning" });
const refusal = (result: Result<unknown>) =>
  result.ok ? "kept" : [result.problem.code, ...result.problem.errors.map(({ field }) => field)];

describe("deciding a policy", () => {
  test("a new version holds, with who, when and why, and the log says what changed", async () => {
    const sale = await buildSale(base.db);
    expect(await change(sale.id)).toEqual({ ok: true, value: { version: 2 } });
    expect(await policyOf(base.db, sale.id)).toEqual({ version: 2, policy: byShifts() });
    const [newest, first] = await policiesOf(base.db, sale.id);
    expect(newest).toMatchObject({ version: 2, reason: "Decided in March", byName: chair.name });
    expect(first).toMatchObject({ version: 1, policy: firstPolicy(20_000) });
    const row = await base.db.audit.findFirstOrThrow({
      where: { deed: "change-policy", subjectId: sale.id },
    });
    expect(row.detail).toEqual({
      ...{ version: 2, reason: "Decided in March" },
      changes: [
        "The guild's percentage. Now: Under 2 hours of work: 30 %. Now: 2 hours of work or more: 20 %. Before: The guild keeps 20 % of the price of each piece.",
      ],
    });
  });

  test("the same key decides once; of two people at once one is told that it changed", async () => {
    const sale = await planned();
    const twice = [change(sale.id, {}, "key-twice"), change(sale.id, {}, "key-twice")];
    expect(await Promise.all(twice)).toEqual([
      { ok: true, value: { version: 2 } },
      { ok: true, value: { version: 2 } },
    ]);
    const more = { replaces: 2, policy: byShifts(25_000) };
    const both = await Promise.all([change(sale.id, more), change(sale.id, more)]);
    expect(both.map(refusal).toSorted()).toEqual([["changed-meanwhile"], "kept"]);
    expect(await base.db.salePolicy.count({ where: { saleId: sale.id } })).toBe(3);
  });

  test("a reason is needed once entries have been open, also after going back to planning", async () => {
    const sale = await planned();
    expect(refusal(await change(sale.id, { reason: "" }))).toBe("kept");
    await base.db.stageChange.create({
      data: { saleId: sale.id, fromStage: "planning", toStage: "entries-open", byId: chair.id },
    });
    const more = { replaces: 2, reason: "", policy: byShifts(40_000) };
    expect(refusal(await change(sale.id, more))).toEqual(["invalid-input", "reason"]);
    const open = await buildSale(base.db);
    expect(refusal(await change(open.id, { reason: "" }))).toEqual(["invalid-input", "reason"]);
  });

  test("a policy that is not sound is refused field by field, and so is one that holds already", async () => {
    const sale = await planned();
    const policy = byShifts();
    policy.rates.kinds = [
      { kind: "ship", name: "", rate: 1_000, visitorsToo: false },
      { kind: "scarf", name: "", rate: 1_000, visitorsToo: false },
    ];
    policy.rates.hours.push({ fromMinutes: 60, rate: 1_000 });
    policy.payout.tenders = [{ method: "cash", upTo: 500 }];
    expect(refusal(await change(sale.id, { policy }))).toEqual([
      ...[
        "invalid-input",
        "policy.rates.kinds.0.kind",
        "policy.rates.hours.1.fromMinutes",
        "policy.payout.tenders",
      ],
    ]);
    const same = { policy: firstPolicy(20_000) as Given };
    expect(refusal(await change(sale.id, same))).toEqual(["invalid-input", "policy"]);
    expect(await base.db.salePolicy.count({ where: { saleId: sale.id } })).toBe(1);
  });

  test("kinds are kept under the name that the guild's list has, whatever was sent", async () => {
    const sale = await planned();
    const policy = byShifts();
    policy.rates.kinds = [{ kind: "scarf", name: "Rubbish", rate: 1_000, visitorsToo: true }];
    done(await change(sale.id, { policy }));
    const kept: Policy = (await policyOf(base.db, sale.id)).policy;
    const listed = await base.db.kind.findUniqueOrThrow({ where: { code: "scarf" } });
    expect(kept.rates.kinds[0]?.name).toBe(listed.name);
  });

  test("nothing changes in a closed sale, and no row of a policy can be changed or taken away", async () => {
    const sale = await buildSale(base.db, { stage: "closed" });
    expect(refusal(await change(sale.id))).toEqual(["stage-closed"]);
    const where = { saleId_version: { saleId: sale.id, version: 1 } };
    await expect(
      base.db.salePolicy.update({ where, data: { reason: "Another" } }),
    ).rejects.toThrow();
    await expect(base.db.salePolicy.delete({ where })).rejects.toThrow();
  });
});

describe("beside a settlement", () => {
  let other: TestDatabase;
  beforeAll(async () => {
    other = await freshDatabase();
  });
  afterAll(() => other.drop());

  test("what was settled stays as it was told", async () => {
    const hall = await buildSettling(other.db);
    const given = { saleId: hall.sale.id, policy: byShifts(), replaces: 1, reason: "Too late" };
    await settleNow(other.db, hall);
    const late = await changePolicy(deedOf(other.db, hall.treasurer), given);
    expect(refusal(late)).toEqual(["already-done"]);
    expect(await other.db.salePolicy.count({ where: { saleId: hall.sale.id } })).toBe(1);
  });
});
