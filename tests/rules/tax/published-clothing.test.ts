import { describe, expect, test } from "vitest";
import { markdown, spreadDiscount } from "../../../src/rules/discount.ts";
import type { KindRule } from "../../../src/rules/tax/tax-rules.ts";
import { component, line, rulesOf, taxOn } from "./support.ts";

const under = (threshold: number): KindRule => ({ kind: "scarf", mode: "exempt-under", threshold });
const over = (threshold: number): KindRule => ({ kind: "scarf", mode: "excess-over", threshold });

const newYorkCity = rulesOf([
  component(4000, [under(11_000)]),
  component(4500, [under(11_000)]),
  component(375, [under(11_000)]),
]);
const newYorkState = rulesOf([component(4000, [under(11_000)])]);
const massachusetts = rulesOf([component(6250, [over(17_500)])]);
const rhodeIsland = rulesOf([component(7000, [over(25_000)])]);

describe("New York, clothing under 110.00 (wording of TSB-M-97(14)S; values computed)", () => {
  test.each([
    [10_999, 0, 0],
    [11_000, 976, 440],
    [11_001, 976, 440],
    [22_000, 1953, 880],
  ])("%i: %i in the city, %i for the state alone", (amount, city, state) => {
    expect(taxOn([line(amount)], newYorkCity).tax).toBe(city);
    expect(taxOn([line(amount)], newYorkState).tax).toBe(state);
  });

  test("looks at one piece and not at the basket", () => {
    expect(taxOn([line(21_998, 2), line(9000)], newYorkCity).tax).toBe(0);
    expect(taxOn([line(22_000, 2)], newYorkState).tax).toBe(880);
  });

  test("leaves the local tax where the county did not follow: 80.00 still owes 3.20", () => {
    const county = rulesOf([component(4000, [under(11_000)], "state"), component(4000, [], "own")]);
    const tax = taxOn([line(8000)], county);
    expect(tax.tax).toBe(320);
    expect(tax.components).toMatchObject([
      { code: "state", base: 0, tax: 0 },
      { code: "own", base: 8000, tax: 320 },
    ]);
  });

  test("tests the price after the discount: 120.00 less 10 % owes nothing, else 10.65", () => {
    const [off = 0] = markdown([{ amount: 12_000, allowed: true }], 10_000);
    expect(taxOn([line(12_000 - off)], newYorkCity).tax).toBe(0);
    expect(taxOn([line(12_000)], newYorkCity).tax).toBe(1065);
  });
});

// G.L. 64H s.6(k); that only the excess is taxed: DOR TIR 04-14; values computed.
describe("Massachusetts, clothing over 175.00", () => {
  test.each([
    [[line(17_499)], 0],
    [[line(17_500)], 0],
    [[line(17_501)], 0],
    [[line(17_508)], 1],
    [[line(17_600)], 6],
    [[line(20_000)], 156],
    [[line(35_000)], 1094],
    [[line(20_000, 2)], 0],
  ])("%j owes %i", (lines, tax) => {
    expect(taxOn(lines, massachusetts).tax).toBe(tax);
  });

  test.each([
    [17_499, 0],
    [17_500, 0],
    [17_501, 1],
  ])("%i is taxed on %i", (amount, base) => {
    expect(taxOn([line(amount)], massachusetts).components).toMatchObject([{ base }]);
  });

  test("tests the price after the discount: 200.00 less 20.00 owes 0.31", () => {
    const [off = 0] = spreadDiscount(2000, [{ amount: 20_000, allowed: true }]);
    const tax = taxOn([line(20_000 - off)], massachusetts);
    expect(tax.tax).toBe(31);
    expect(tax.components).toMatchObject([{ base: 500, tax: 31 }]);
  });
});

// 280-RICR-20-70-6.6 has 275.00 -> 1.75 and 500.00 with 50.00 for delivery -> 21.00; the other
// values are computed.
describe("Rhode Island, clothing over 250.00", () => {
  test.each([
    [[line(24_999)], 0],
    [[line(25_000)], 0],
    [[line(25_001)], 0],
    [[line(25_008)], 1],
    [[line(27_500)], 175],
    [[line(30_000)], 350],
    [[line(50_000)], 1750],
    [[line(55_000)], 2100],
    [[line(30_000, 5)], 0],
  ])("%j owes %i", (lines, tax) => {
    expect(taxOn(lines, rhodeIsland).tax).toBe(tax);
  });

  test("taxes fabric and yarn from the first cent", () => {
    expect(taxOn([line(1000, 1, "yarn")], rhodeIsland).tax).toBe(70);
  });
});

test("Minnesota: general-use clothing is free, other goods are not (revenue.state.mn.us guide)", () => {
  const minnesota = rulesOf([component(6875, [{ kind: "scarf", mode: "exempt" }])]);
  expect(taxOn([line(50_000)], minnesota).tax).toBe(0);
  expect(taxOn([line(1000, 1, "bag")], minnesota).tax).toBe(69);
});
