import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkFibres, type Fibre, fibreNames, fibreText } from "../../src/rules/fibre.ts";

const list = (shares: Record<string, number>): Fibre[] =>
  Object.entries(shares).map(([fibre, percent]) => ({ fibre, percent }));

describe("the words of a label", () => {
  // 16 CFR 303.16(a) and 303.27 for names, percents and order; ties by the alphabet are our own.
  test.each([
    [{ cotton: 100 }, "100% Cotton"],
    [{ linen: 40, cotton: 60 }, "60% Cotton, 40% Linen"],
    [{ linen: 50, cotton: 50 }, "50% Cotton, 50% Linen"],
    [{ linen: 33, cotton: 34, hemp: 33 }, "34% Cotton, 33% Hemp, 33% Linen"],
    [{ wool: 80, nylon: 20 }, "80% Wool, 20% Nylon"],
    [{ cotton: 97, wool: 3 }, "97% Cotton, 3% Wool"],
    [{ "angora-rabbit": 20, wool: 80 }, "80% Wool, 20% Angora Rabbit Hair"],
    [{ "bamboo-rayon": 70, cotton: 30 }, "70% Rayon made from bamboo, 30% Cotton"],
    [{ cotton: 92, silk: 5, other: 3 }, "92% Cotton, 5% Silk, 3% Other Fiber"],
    [{ unknown: 70, cotton: 30 }, "30% Cotton, 70% Unknown Fibers"],
    [{ unknown: 10, other: 50, cotton: 40 }, "40% Cotton, 50% Other Fiber, 10% Unknown Fibers"],
  ])("%j: %s", (shares, words) => {
    expect(fibreText(list(shares))).toBe(words);
  });

  test("do not depend on the order of typing", () => {
    const codes = Object.keys(fibreNames);
    const fibres = fc.uniqueArray(
      fc.record({ fibre: fc.constantFrom(...codes), percent: fc.integer({ min: 1, max: 100 }) }),
      { selector: ({ fibre }) => fibre, minLength: 1, maxLength: 6 },
    );
    fc.assert(
      fc.property(fibres, (typed) => {
        expect(fibreText(typed.toReversed())).toBe(fibreText(typed));
      }),
    );
  });

  test("are never made from an unknown code", () => {
    expect(() => fibreText(list({ bamboo: 100 }))).toThrow("bamboo");
  });
});

describe("a typed list", () => {
  test.each<[string, Fibre[], string, string]>([
    ["nothing", [], "fibres", "at least one"],
    ["an unknown fibre", list({ bamboo: 100 }), "fibres.0.fibre", "from the list"],
    [
      "too little",
      list({ cotton: 60, linen: 30 }),
      "fibres",
      "add up to 90 %. They need to make 100: 10 more",
    ],
    ["too much", list({ cotton: 60, linen: 50 }), "fibres", "10 less"],
    ["a fraction", list({ cotton: 99.5, linen: 0.5 }), "fibres.0.percent", "whole percentage"],
    ["no share", list({ cotton: 100, linen: 0 }), "fibres.1.percent", "from 1 to 100"],
    [
      "one fibre twice",
      [...list({ cotton: 50 }), ...list({ cotton: 50 })],
      "fibres.1.fibre",
      "Cotton is in the list twice",
    ],
  ])("with %s is refused", (_, fibres, field, message) => {
    expect(checkFibres(fibres)[0]).toEqual({ field, message: expect.stringContaining(message) });
  });

  test("that makes 100 is accepted", () => {
    expect(checkFibres(list({ cotton: 64, linen: 36 }))).toEqual([]);
    expect(checkFibres(list({ toString: 100 }))).toHaveLength(1);
  });
});

test("names are written once each, and no plain bamboo is offered", () => {
  const names = Object.values(fibreNames);
  expect(new Set(names).size).toBe(names.length);
  // A label may not call dissolved and spun bamboo pulp just bamboo (Federal Trade Commission).
  expect(names.filter((name) => /^bamboo$/i.test(name))).toEqual([]);
});
