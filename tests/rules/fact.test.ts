import { expect, test } from "vitest";
import { type FactFigures, type FactLineFigures, factAddsUp } from "../../src/rules/fact.ts";

const line: FactLineFigures = {
  ...{ kind: "item", quantity: 2, unitPrice: 1_000, discount: 200, amount: 1_800 },
  ...{ tax: 150, taxInside: 0 },
};
const gift: FactLineFigures = {
  ...{ kind: "donation", quantity: 1, unitPrice: 500, discount: 0, amount: 500 },
  ...{ tax: 0, taxInside: 0 },
};
const sale: FactFigures = {
  kind: "sale",
  lines: [line, gift],
  taxes: [
    { code: "state", tax: 100 },
    { code: "city", tax: 50 },
  ],
  tenders: [
    { kind: "card", amount: 1_000 },
    { kind: "cash", amount: 1_455 },
  ],
  ...{ subtotal: 2_300, tax: 150, total: 2_450, rounding: 5, cashGiven: 2_000, change: 545 },
};
const minus = (amount: number) => 0 - amount;
const back: FactFigures = {
  ...sale,
  kind: "return",
  lines: sale.lines.map((one) => ({
    ...one,
    quantity: minus(one.quantity),
    discount: minus(one.discount),
    amount: minus(one.amount),
    tax: minus(one.tax),
  })),
  taxes: sale.taxes.map(({ code, tax }) => ({ code, tax: minus(tax) })),
  tenders: sale.tenders.map(({ kind, amount }) => ({ kind, amount: minus(amount) })),
  ...{ subtotal: -2_300, tax: -150, total: -2_450, rounding: -5, cashGiven: 0, change: 0 },
};
const withLine = (change: Partial<FactLineFigures>, more: Partial<FactFigures> = {}) => ({
  ...sale,
  lines: [{ ...line, ...change }, gift],
  ...more,
});

const free = { ...line, discount: 2_000, amount: 0, tax: 0 };
const nothing = {
  ...{ lines: [free], taxes: [], tenders: [{ kind: "cash", amount: 0 }] },
  ...{ subtotal: 0, tax: 0, total: 0, rounding: 0 },
};

test("a sale with tax, markdown, gift, card and rounded cash adds up, and so does its return", () => {
  expect([factAddsUp(sale), factAddsUp(back)]).toEqual([true, true]);
});

test("tax inside the price, the same tax twice as nothing, and cash of nothing add up", () => {
  const inside = withLine({ taxInside: 150, amount: 1_650 }, { subtotal: 2_150, total: 2_300 });
  expect(factAddsUp({ ...inside, tenders: [{ kind: "cash", amount: 2_305 }] })).toBe(true);
  const zeros = ["x", "x"].map((code) => ({ code, tax: 0 }));
  expect(factAddsUp({ ...sale, taxes: [...sale.taxes, ...zeros] })).toBe(true);
  const away = { ...sale, tenders: [{ kind: "cash", amount: 0 }], rounding: -2_450 };
  expect(factAddsUp(away)).toBe(true);
});

test.each<[string, FactFigures]>([
  ["lines and subtotal", { ...sale, subtotal: 2_301, total: 2_451, rounding: 4 }],
  ["lines and tax", withLine({ tax: 151 })],
  ["taxes by component and tax", { ...sale, taxes: [{ code: "state", tax: 149 }] }],
  ["subtotal, tax and total", { ...sale, total: 2_451, rounding: 4 }],
  ["tenders, total and rounding", { ...sale, rounding: 4 }],
  ["a sale that pays money out", { ...back, kind: "sale" }],
  ["a return that takes money", { ...sale, kind: "return" }],
  [
    "a card payment of nothing",
    { ...sale, tenders: [...sale.tenders, { kind: "card", amount: 0 }] },
  ],
  [
    "a component named twice",
    { ...sale, taxes: sale.taxes.map(({ tax }) => ({ code: "x", tax })) },
  ],
  ["change below zero", { ...sale, change: -1 }],
  ["more change than cash", { ...sale, change: 2_001 }],
  ["pieces, price and amount", withLine({ unitPrice: 1_001 })],
  ["a discount that is added", withLine({ unitPrice: 800, discount: -200 })],
  ["a sale of nothing", { ...sale, ...nothing }],
  [
    "a line without pieces",
    { ...sale, lines: [...sale.lines, { ...free, quantity: 0, discount: 0 }] },
  ],
  ["pieces of the other sign", withLine({ quantity: -2, discount: -3_800 })],
  ["a part of the tax inside", withLine({ taxInside: 50, discount: 150 })],
  [
    "a taxed gift",
    {
      ...sale,
      lines: [
        { ...line, tax: 100 },
        { ...gift, tax: 50 },
      ],
    },
  ],
])("does not add up: %s", (_, fact) => {
  expect(factAddsUp(fact)).toBe(false);
});
