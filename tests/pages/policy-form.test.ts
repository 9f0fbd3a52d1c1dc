import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readPolicy } from "../../src/pages/policy/form.ts";
import { packed } from "../../src/pages/policy/rows.ts";
import { policyValues } from "../../src/pages/policy/values.ts";
import { checkPolicy } from "../../src/rules/policy/check-policy.ts";
import { firstPolicy } from "../../src/rules/policy/policy.ts";
import { policies } from "../rules/policy/support.ts";
import { policyForm } from "../support/policy-form.ts";

const read = (more: Record<string, string>, currency = "USD") =>
  readPolicy(packed(policyForm(more)), currency);
const faults = (more: Record<string, string>, currency?: string) => {
  const result = read(more, currency);
  return result.ok ? [] : result.problem.errors.map(({ field }) => field);
};
const policyIn = (more: Record<string, string>, currency?: string) => {
  const result = read(more, currency);
  if (!result.ok) throw new Error(JSON.stringify(result.problem));
  return result.value.policy;
};

describe("the form of a policy", () => {
  test("empty fields are no fee, no percentage of its own and any amount", () => {
    expect(read({})).toEqual({
      ok: true,
      value: { replaces: 1, reason: "", policy: firstPolicy(20_000) },
    });
  });

  test("amounts, percentages and hours are read as people write them", () => {
    const policy = policyIn({
      ...{ "rates.ordinary": "30 %", "rates.visitor": "15", "rates.committee": "10,5" },
      ...{ "rates.hours.0.fromMinutes": "2", "rates.hours.0.rate": "20" },
      ...{ "rates.hours.1.fromMinutes": "5:30", "rates.hours.1.rate": "12.5" },
      ...{ "fees.entry": "$20", "fees.firstEntry": "0", "fees.late": "0.50" },
      "fees.lateFor": "item",
      ...{ "cardFee.way": "charged", "cardFee.rate": "2.9", "cardFee.fixed": "0.30" },
      ...{ "loss.rule": "capped", "loss.cap": "200", "loss.aboveCap": "50" },
    });
    expect(policy.rates).toMatchObject({
      ...{ ordinary: 30_000, visitor: 15_000, committee: 10_500 },
      hours: [
        { fromMinutes: 120, rate: 20_000 },
        { fromMinutes: 330, rate: 12_500 },
      ],
    });
    expect(policy.fees).toMatchObject({ entry: 2_000, firstEntry: 0, late: 50, lateFor: "item" });
    expect(policy.cardFee).toEqual({ way: "charged", rate: 2_900, fixed: 30 });
    expect(policy.loss).toEqual({ rule: "capped", cap: 20_000, aboveCap: 50_000 });
    expect(policyIn({ "fees.entry": "2000" }, "JPY").fees.entry).toBe(2_000);
  });

  test("every fault is named at its field, also behind an empty row", () => {
    expect(
      faults({
        ...{ "rates.ordinary": "ninety", "rates.visitor": "101", "fees.entry": "-1" },
        "rates.hours.1.fromMinutes": "soon",
        "rates.kinds.1.rate": "10",
        "rates.classes.0.name": "Honorary members",
        ...{ "loss.rule": "capped", "loss.cap": "", "loss.aboveCap": "50" },
        "payout.tenders.0.method": "gold",
      }),
    ).toEqual([
      ...["rates.ordinary", "rates.visitor", "rates.classes.0.rate"],
      ...["rates.hours.0.fromMinutes", "rates.hours.0.rate", "fees.entry", "loss.cap"],
      ...["rates.kinds.0.kind", "payout.tenders.0.method"],
    ]);
    expect(faults({ "fees.entry": "1.5" }, "JPY")).toEqual(["fees.entry"]);
    expect(faults({ "loss.rule": "", "cardFee.way": "x", replaces: "" })).toEqual([
      ...["cardFee.way", "loss.rule", "replaces"],
    ]);
  });

  test("a class keeps its code when it is renamed, and two of one name have two codes", () => {
    const row = (index: number, name: string, code = "") => ({
      [`rates.classes.${index}.code`]: code,
      [`rates.classes.${index}.name`]: name,
      [`rates.classes.${index}.rate`]: "5",
    });
    const codes = policyIn({
      ...row(0, "Elders", "honorary"),
      ...row(2, "Young"),
      ...row(3, "Young"),
    }).rates.classes.map(({ code, name }) => [code, name]);
    expect(codes).toEqual([
      ["honorary", "Elders"],
      ["young", "Young"],
      ["young-2", "Young"],
    ]);
  });

  test("any sound policy stands in the form and is read from it again unchanged", () => {
    fc.assert(
      fc.property(policies, (policy) => {
        fc.pre(checkPolicy(policy).length === 0);
        const { way, fixed } = policy.cardFee;
        const shown = {
          ...policy,
          cardFee: { ...policy.cardFee, fixed: way === "charged" ? fixed : 0 },
        };
        const result = readPolicy(
          packed(policyValues({ version: 3, policy: shown }, "USD")),
          "USD",
        );
        if (!result.ok) throw new Error(JSON.stringify(result.problem.errors));
        const { kinds } = result.value.policy.rates;
        const named = kinds.map((one, index) => ({
          ...one,
          name: policy.rates.kinds[index]!.name,
        }));
        const rates = { ...result.value.policy.rates, kinds: named };
        expect({ ...result.value.policy, rates }).toEqual(shown);
        expect(result.value.replaces).toBe(3);
      }),
    );
  });
});
