import { describe, expect, test } from "vitest";
import { checkFibres, type Fibre, fibreList } from "../../src/rules/fibre.ts";

const list = (shares: Record<string, number>): Fibre[] =>
  Object.entries(shares).map(([fibre, percent]) => ({ fibre, percent }));

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

  test("may name one fibre twice when it does two things", () => {
    const twice: Fibre[] = [
      { fibre: "cotton", percent: 96 },
      { fibre: "cotton", percent: 4, role: "ornament" },
    ];
    expect(checkFibres(twice)).toEqual([]);
  });

  test("that makes 100 is accepted", () => {
    expect(checkFibres(list({ cotton: 64, linen: 36 }))).toEqual([]);
    expect(checkFibres(list({ toString: 100 }))).toHaveLength(1);
  });
});

test("names are written once each, and no plain bamboo is offered", () => {
  const names = fibreList.map(({ name }) => name);
  expect(new Set(names).size).toBe(names.length);
  // A label may not call dissolved and spun bamboo pulp just bamboo (Federal Trade Commission).
  expect(names.filter((name) => /^bamboo$/i.test(name))).toEqual([]);
});
