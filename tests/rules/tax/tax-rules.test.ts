import { describe, expect, test } from "vitest";
import { checkTaxRules } from "../../../src/rules/tax/check-tax-rules.ts";
import {
  flatTax,
  type KindRule,
  ruleFor,
  type TaxRules,
} from "../../../src/rules/tax/tax-rules.ts";
import { component, line, rulesOf, taxOn } from "./support.ts";

describe("which rule counts", () => {
  const holiday = { from: "2026-08-01", to: "2026-08-02" };
  const rules: KindRule[] = [
    { kind: "*", mode: "exempt" },
    { kind: "yarn", mode: "taxable" },
    { kind: "*", mode: "exempt-under", threshold: 2000, ...holiday },
    { kind: "shawl", mode: "exempt-under", threshold: 10_000, ...holiday },
    { kind: "rug", mode: "taxable", from: "2026-12-01" },
    { kind: "bag", mode: "taxable", to: "2026-06-30" },
  ];
  const modeOf = (kind: string, day: string) => {
    const { mode, threshold } = ruleFor(component(7000, rules), kind, day);
    return threshold === undefined ? mode : `${mode} ${threshold}`;
  };

  test.each([
    ["shawl", "2026-08-01", "exempt-under 10000"],
    ["shawl", "2026-08-02", "exempt-under 10000"],
    ["shawl", "2026-07-31", "exempt"],
    ["shawl", "2026-08-03", "exempt"],
    ["yarn", "2026-08-01", "exempt-under 2000"],
    ["yarn", "2026-08-03", "taxable"],
    ["rug", "2026-11-30", "exempt"],
    ["rug", "2027-01-01", "taxable"],
    ["bag", "2026-06-30", "taxable"],
    ["bag", "2026-07-01", "exempt"],
  ])("%s on %s is %s", (kind, day, mode) => {
    expect(modeOf(kind, day)).toBe(mode);
  });

  test("without any the kind is taxed", () => {
    expect(ruleFor(component(7000), "shawl", "2026-08-01").mode).toBe("taxable");
  });

  test("a holiday ends at midnight (Streamlined s.322: the whole price, tested by piece)", () => {
    const tax = (on: string) =>
      taxOn([line(9999)], rulesOf([component(7000, [{ ...rules[3]!, kind: "*" }])]), { on }).tax;
    expect(tax("2026-08-02")).toBe(0);
    expect(tax("2026-08-03")).toBe(700);
  });
});

describe("what is wrong with rules", () => {
  const withRule = (rule: KindRule, ...more: KindRule[]) =>
    rulesOf([component(7000, [rule, ...more])]);
  const under: KindRule = { kind: "scarf", mode: "exempt-under", threshold: 100 };

  test.each<[string, TaxRules, string, string]>([
    ["no code", rulesOf([component(1, [], "")]), "components.0.code", "short code"],
    [
      "a code twice",
      rulesOf([component(1), component(2, [], "tax-1")]),
      "components.1.code",
      "Another tax",
    ],
    ["no name", flatTax(7000, " "), "components.0.name", "receipts show"],
    ["a broken rate", flatTax(0.5, "Tax"), "components.0.rate", "between 0"],
    ["too high", rulesOf([component(30_000), component(20_001)]), "components", "50 %"],
    [
      "too many",
      rulesOf(Array.from({ length: 9 }, (_, index) => component(index))),
      "components",
      "at most 8",
    ],
    ["no kind", withRule({ ...under, kind: "" }), "components.0.rules.0.kind", "Choose"],
    [
      "no threshold",
      withRule({ kind: "*", mode: "excess-over" }),
      "components.0.rules.0.threshold",
      "price",
    ],
    ["no price", withRule({ ...under, threshold: 0 }), "components.0.rules.0.threshold", "price"],
    [
      "no such day",
      withRule({ ...under, from: "2026-02-30" }),
      "components.0.rules.0.from",
      "calendar",
    ],
    ["not a day", withRule({ ...under, to: "August" }), "components.0.rules.0.to", "calendar"],
    [
      "backwards",
      withRule({ ...under, from: "2026-08-02", to: "2026-08-01" }),
      "components.0.rules.0.to",
      "before",
    ],
    [
      "said twice",
      withRule(under, { kind: "scarf", mode: "taxable" }),
      "components.0.rules.1.kind",
      "earlier rule",
    ],
    [
      "thresholds in prices with two taxes",
      rulesOf([component(1), component(2, [under])], { included: true }),
      "included",
      "more than one",
    ],
  ])("%s", (_, rules, field, message) => {
    expect(checkTaxRules(rules)).toEqual([{ field, message: expect.stringContaining(message) }]);
  });

  test("nothing, for what sales have today and for everything at its limits", () => {
    const day = "2026-08-01";
    expect(checkTaxRules(flatTax(8875, "Sales tax"))).toEqual([]);
    expect(checkTaxRules(rulesOf([]))).toEqual([]);
    expect(checkTaxRules(withRule(under, { ...under, from: day, to: day }))).toEqual([]);
    expect(checkTaxRules(rulesOf([component(50_000, [under])], { included: true }))).toEqual([]);
  });
});

test("broken invariants throw: amounts below zero, no pieces, a threshold that is missing", () => {
  const tax = flatTax(7000, "Tax");
  expect(() => taxOn([line(-1)], tax)).toThrow(RangeError);
  expect(() => taxOn([line(100, 0)], tax)).toThrow(RangeError);
  expect(() => taxOn([line(0.5)], tax)).toThrow(RangeError);
  const rules = rulesOf([component(7000, [{ kind: "*", mode: "exempt-under" }])]);
  expect(() => taxOn([line(100)], rules)).toThrow("no threshold");
});
