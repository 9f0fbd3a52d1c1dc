import { describe, expect, test } from "vitest";
import { component, line, rulesOf, taxOn } from "./support.ts";

const included = (rate: number) => rulesOf([component(rate)], { included: true });

// Tax in the price is gross × r / (100 + r), as VAT and GST work it out; values computed.
test.each([
  [12_000, 20_000, 2000],
  [10_000, 20_000, 1667],
  [999, 20_000, 167],
  [4750, 20_000, 792],
  [3, 20_000, 1],
  [11_500, 15_000, 1500],
  [1000, 13_000, 115],
  [11_000, 10_000, 1000],
  [2500, 25_000, 500],
  [1735, 21_000, 301],
])("%i at %i holds %i, and the net is the rest", (gross, rate, tax) => {
  const result = taxOn([line(gross)], included(rate));
  expect(result).toMatchObject({ tax, perLine: [tax], inPrice: [tax] });
  expect(result.components).toMatchObject([{ base: gross - tax, tax }]);
});

test("two taxes in one price share the same net", () => {
  // 115.00 holds 100.00, 5.00 and 10.00.
  const two = rulesOf([component(5000), component(10_000)], { included: true });
  expect(taxOn([line(11_500)], two).components).toMatchObject([
    { base: 10_000, tax: 500 },
    { base: 10_000, tax: 1000 },
  ]);
});

test("lines under other taxes have other divisors and are still added up exactly", () => {
  const rules = rulesOf([component(5000), component(10_000, [{ kind: "yarn", mode: "exempt" }])], {
    included: true,
  });
  // 1.15 holds 0.05 + 0.10; yarn at 1.05 holds 0.05.
  expect(taxOn([line(115), line(105, 1, "yarn")], rules)).toMatchObject({
    tax: 20,
    perLine: [15, 5],
    components: [
      { base: 200, tax: 10 },
      { base: 100, tax: 10 },
    ],
  });
});

test("only the excess over a threshold holds tax", () => {
  const rules = rulesOf(
    [component(10_000, [{ kind: "*", mode: "excess-over", threshold: 1000 }])],
    {
      included: true,
    },
  );
  // 21.00 is 10.00 free, then 11.00 that hold 1.00.
  expect(taxOn([line(2100)], rules)).toMatchObject({ tax: 100, components: [{ base: 1000 }] });
});

describe("an exempt buyer", () => {
  test("owes no tax on top", () => {
    const tax = taxOn([line(1000)], rulesOf([component(7000)]), { exemptBuyer: true });
    expect(tax).toMatchObject({ tax: 0, perLine: [0], inPrice: [0] });
    expect(tax.components).toMatchObject([{ base: 0, tax: 0 }]);
  });

  test("pays a price less the tax that stands in it", () => {
    const tax = taxOn([line(12_000)], included(20_000), { exemptBuyer: true });
    expect(tax).toMatchObject({ tax: 0, perLine: [0], inPrice: [2000] });
    expect(tax.components).toMatchObject([{ base: 0, tax: 0 }]);
  });
});

test("donations hold no tax", () => {
  const gift = { ...line(1000), taxed: false };
  expect(taxOn([gift, line(1200)], included(20_000))).toMatchObject({
    tax: 200,
    perLine: [0, 200],
    components: [{ base: 1000 }],
  });
});
