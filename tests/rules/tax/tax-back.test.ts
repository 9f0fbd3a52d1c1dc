import { expect, test } from "vitest";
import { total } from "../../../src/rules/money.ts";
import { taxBack } from "../../../src/rules/tax/tax-back.ts";

const held = (...taxes: number[]) =>
  taxes.map((tax, at) => ({
    code: `c${at}`,
    name: `Tax ${at}`,
    rate: 1_000,
    base: 100 * tax,
    tax,
  }));
const back = (tax: number, ...left: number[]) => taxBack(tax, held(...left)).map((one) => one.tax);

test("each component gives its share of what it holds, with its base in step", () => {
  expect(taxBack(-3, held(4, 2)).map(({ base, tax }) => [base, tax])).toEqual([
    [-200, -2],
    [-100, -1],
  ]);
  expect(back(0, 4, 2)).toEqual([0, 0]);
});

test("returning in any steps empties every component", () => {
  const first = back(-2, 1, 1, 1);
  const rest = [1, 1, 1].map((tax, at) => tax + first[at]!);
  expect(back(-1, ...rest).map((tax, at) => rest[at]! + tax)).toEqual([0, 0, 0]);
});

test("a component that gave a coin too much off line gives no more; the sum is exact", () => {
  const parts = back(-1, -1, 1, 1);
  expect([parts[0], total(parts)]).toEqual([0, -1]);
});

test("more than is left cannot go back", () => {
  expect(() => back(-4, 1, 2)).toThrow(RangeError);
});
