import { describe, expect, test } from "vitest";
import { readTerms } from "../../src/pages/sales/terms-form.ts";
import { packed, textsOf } from "../../src/pages/sales/terms-rows.ts";

const guild = { currency: "USD", timeZone: "America/Chicago" };
const shared = { version: "1", included: "no", basis: "line", cashStep: "1", cashFives: "up" };
const read = (more: Record<string, unknown>) =>
  readTerms(packed(textsOf({ ...shared, ...more })), guild);
const faults = (more: Record<string, unknown>) => {
  const result = read(more);
  return result.ok ? [] : result.problem.errors.map(({ field }) => field);
};
const taxes = (more: Record<string, unknown>) => {
  const result = read(more);
  if (!result.ok) throw new Error(JSON.stringify(result.problem));
  return result.value.tax?.components;
};
const tax = (index: number, name: string, rate = "1") => ({
  [`tax.components.${index}.name`]: name,
  [`tax.components.${index}.rate`]: rate,
});

describe("the rows of the form", () => {
  test("a rate without a name and a rule without a kind are named and not dropped", () => {
    expect(faults({ "tax.components.0.rate": "8.25" })).toEqual(["tax.components.0.name"]);
    const rule = { "tax.components.0.rules.0.threshold": "110" };
    expect(faults({ ...tax(0, "City"), ...rule })).toEqual(["tax.components.0.rules.0.kind"]);
    expect(faults({ "tax.components.0.rules.0.kind": "*" })).toContain("tax.components.0.name");
  });

  test("emptying name and rate takes a tax away with its rules, and those behind move up", () => {
    const rest = taxes({
      "tax.components.0.code": "old",
      "tax.components.0.rules.0.kind": "*",
      "tax.components.0.rules.0.mode": "exempt",
      ...tax(1, "City"),
      "tax.components.1.code": "city",
      "tax.components.1.rules.2.kind": "scarf",
      "tax.components.1.rules.2.mode": "exempt",
    });
    expect(rest).toEqual([
      { code: "city", name: "City", rate: 1_000, rules: [{ kind: "scarf", mode: "exempt" }] },
    ]);
  });

  test("a fault behind an empty row is named where the row stands when it is shown again", () => {
    expect(faults(tax(1, "City", "ninety"))).toEqual(["tax.components.0.rate"]);
    expect(packed(tax(1, "City", "ninety"))["tax.components.0.rate"]).toBe("ninety");
  });

  test("two taxes of one name have two codes; eight of them and sixty rules are all read", () => {
    expect(taxes({ ...tax(0, "City"), ...tax(1, "City") })?.map(({ code }) => code)).toEqual([
      "city",
      "city-2",
    ]);
    const eight = Array.from({ length: 8 }, (_, index) => tax(index, `Tax ${index}`));
    expect(taxes(Object.assign({}, ...eight))).toHaveLength(8);
    const rules = Array.from({ length: 60 }, (_, index) => ({
      [`tax.components.0.rules.${index}.kind`]: `kind-${index}`,
    }));
    expect(taxes(Object.assign(tax(0, "City"), ...rules))?.[0]?.rules).toHaveLength(60);
  });

  test("a field that is sent twice counts as empty", () => {
    expect(taxes({ "tax.components.0.name": ["a", "b"] })).toEqual([]);
    expect(faults({ markdownRate: ["1", "2"] })).toEqual([]);
  });
});

test("a form with the last day alone leaves tax and cash as they are", () => {
  const change = readTerms({ version: "3", markdownRate: "20", markdownFrom: "" }, guild);
  expect(change).toEqual({
    ok: true,
    value: { version: 3, markdownRate: 20_000, markdownFrom: null },
  });
});

test("the moment of the markdown is read on the guild's clock", () => {
  const change = read({ markdownRate: "20", markdownFrom: "2026-11-29T12:00" });
  expect(change.ok && change.value.markdownFrom).toBe("2026-11-29T18:00:00.000Z");
});
