import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type CashRounding, cashSteps, roundCash } from "../../src/rules/cash-rounding.ts";
import { taxOf } from "../../src/rules/tax/tax-of.ts";
import { flatTax } from "../../src/rules/tax/tax-rules.ts";

const fivers: CashRounding = { step: 5, fives: "up" };
const crowns: CashRounding = { step: 100, fives: "up" };

// Last digit 0 to 9. Five cents: Canada's Budget 2012 annex, Alabama's Act 2026-548 and Arizona's
// SB1108 read; Australia, Finland and the Netherlands from secondary sources. Ten cents: New
// Zealand, which way a five goes is the shop's choice (secondary source).
describe.each<[string, CashRounding, number[]]>([
  ["0.05", fivers, [0, -1, -2, 2, 1, 0, -1, -2, 2, 1]],
  ["0.05, whatever a five does", { step: 5, fives: "down" }, [0, -1, -2, 2, 1, 0, -1, -2, 2, 1]],
  ["0.10, five down", { step: 10, fives: "down" }, [0, -1, -2, -3, -4, -5, 4, 3, 2, 1]],
  ["0.10, five up", { step: 10, fives: "up" }, [0, -1, -2, -3, -4, 5, 4, 3, 2, 1]],
  ["not at all", { step: 1, fives: "up" }, [0, 0, 0, 0, 0, 0, 0, 0, 0, 0]],
])("to %s", (_, rule, table) => {
  test.each(table.map((rounding, digit) => [digit, rounding]))("%i: %i", (digit, rounding) => {
    expect(roundCash(1230 + digit, rule)).toEqual({ due: 1230 + digit + rounding, rounding });
  });
});

test("to the crown: .01 to .49 down, .50 to .99 up (Sweden, Act 1970:1029 s.2; Norway 294/2011)", () => {
  for (let cents = 0; cents < 100; cents += 1)
    expect(roundCash(4200 + cents, crowns).due).toBe(cents < 50 ? 4200 : 4300);
});

// Denmark's half crown, from memory.
test.each([
  [1024, 1000],
  [1025, 1050],
  [1074, 1050],
  [1075, 1100],
])("to 0.50: %i is %i", (due, paid) => {
  expect(roundCash(due, { step: 50, fives: "up" }).due).toBe(paid);
});

// 4.92 is Canada's own example; 5.97 and 5.98 are Quebec's (Office de la protection du
// consommateur); 324.74 is the Texas Comptroller's, who takes 324.70 or 324.75; the rest computed.
test.each([
  [492, 490],
  [597, 595],
  [598, 600],
  [77_272, 77_270],
  [999, 1000],
  [1001, 1000],
  [1762, 1760],
  [1763, 1765],
  [2002, 2000],
  [32_474, 32_475],
  [1, 0],
  [2, 0],
  [3, 5],
  [0, 0],
  [-1762, -1760],
  [-1763, -1765],
])("%i in cash is %i", (due, paid) => {
  expect(roundCash(due, fivers)).toEqual({ due: paid, rounding: paid - due });
});

test("Canada's worked example from the shelf: 1.83 + 2.86 and 5 % tax", () => {
  const lines = [183, 286].map((amount) => ({ kind: "", amount, quantity: 1, taxed: true }));
  const { tax } = taxOf(lines, flatTax(5000, "GST"), { day: "2012-03-29", exemptBuyer: false });
  expect(183 + 286 + tax).toBe(492);
  expect(roundCash(183 + 286 + tax, fivers).due).toBe(490);
});

test("zero carries no minus sign", () => {
  expect(Object.is(roundCash(-2, fivers).due, 0)).toBe(true);
  expect(Object.is(roundCash(-100, fivers).rounding, 0)).toBe(true);
  expect(() => roundCash(0.5, fivers)).toThrow(RangeError);
});

test("a refund mirrors its sale, on a whole step, never further than half of one", () => {
  const rules = fc.record({
    step: fc.constantFrom(...cashSteps),
    fives: fc.constantFrom("up" as const, "down" as const),
  });
  fc.assert(
    fc.property(fc.nat(10_000_000), rules, (due, rule) => {
      const sale = roundCash(due, rule);
      const back = roundCash(0 - due, rule);
      expect(sale.due + back.due).toBe(0);
      expect(sale.rounding + back.rounding).toBe(0);
      expect(sale.due % rule.step).toBe(0);
      expect(sale.due - sale.rounding).toBe(due);
      expect(2 * Math.abs(sale.rounding)).toBeLessThanOrEqual(rule.step);
    }),
  );
});
