import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dividedBy, fraction, times } from "../../../src/rules/fraction.ts";
import { decimalText } from "../../../src/rules/weave/measure.ts";
import { settGuide } from "../../../src/rules/weave/sett-guide.ts";
import {
  metresInKilogram,
  metreWeight,
  numberIn,
  yardageMismatch,
  yardsInPound,
} from "../../../src/rules/weave/yarn-convert.ts";
import {
  gramsPerMetre,
  type YarnSystem,
  yarnSystems,
} from "../../../src/rules/weave/yarn-number.ts";
import { buildYarn, pure } from "../../support/build-sheet.ts";

const weight = (system: YarnSystem, figure: number, plies = 1) =>
  gramsPerMetre({ system, thousandths: Math.round(figure * 1_000), plies });

describe("conversion factors of ASTM D2260 and ISO 1144", () => {
  test.each([
    // Tex of number 1 of each system.
    ["cotton", "tex", "590.5412"],
    ["worsted", "tex", "885.8119"],
    ["run", "tex", "310.0342"],
    ["cut", "tex", "1653.5155"],
    ["lea", "tex", "1653.5155"],
    ["metric", "tex", "1000.0000"],
    ["tex", "denier", "9.0000"],
    ["tex", "dtex", "10.0000"],
    ["cotton", "worsted", "1.5000"],
    ["cotton", "run", "0.5250"],
    ["cotton", "lea", "2.8000"],
    ["metric", "yards-per-pound", "496.0546"],
    ["metric", "metres-per-kilogram", "1000.0000"],
    ["yards-per-pound", "tex", "496054.6479"],
    ["yards-per-pound", "metres-per-kilogram", "2.0159"],
  ] as const)("%s 1 is %s %s", (from, to, figure) => {
    expect(decimalText(numberIn(weight(from, 1), to), 4)).toBe(figure);
  });

  test("denier of cotton count 1, to the two decimals printed there", () => {
    expect(decimalText(numberIn(weight("cotton", 1), "denier"), 2)).toBe("5314.87");
  });
});

test.each([
  // Nominal lengths by those factors; yards in a pound, metres in a kilogram, tex.
  ["cotton", 3, 2, "1260.0", "2540.0", "393.69"],
  ["cotton", 5, 2, "2100.0", "4233.4", "236.22"],
  ["cotton", 6, 2, "2520.0", "5080.1", "196.85"],
  ["cotton", 8, 2, "3360.0", "6773.4", "147.64"],
  ["cotton", 10, 2, "4200.0", "8466.8", "118.11"],
  ["cotton", 16, 2, "6720.0", "13546.9", "73.82"],
  ["cotton", 20, 2, "8400.0", "16933.6", "59.05"],
  ["cotton", 24, 2, "10080.0", "20320.3", "49.21"],
  ["cotton", 8, 4, "1680.0", "3386.7", "295.27"],
  ["cotton", 50, 3, "14000.0", "28222.7", "35.43"],
  ["cotton", 30, 2, "12600.0", "25400.4", "39.37"],
  ["metric", 20, 2, "4960.5", "10000.0", "100.00"],
  ["metric", 60, 2, "14881.6", "30000.0", "33.33"],
  ["lea", 16, 1, "4800.0", "9676.4", "103.34"],
  ["lea", 16, 2, "2400.0", "4838.2", "206.69"],
  ["lea", 40, 2, "6000.0", "12095.4", "82.68"],
  ["lea", 22, 2, "3300.0", "6652.5", "150.32"],
  ["worsted", 8, 2, "2240.0", "4515.6", "221.45"],
  ["worsted", 10, 2, "2800.0", "5644.5", "177.16"],
  ["worsted", 18, 2, "5040.0", "10160.2", "98.42"],
  ["metric", 17, 2, "4216.5", "8500.0", "117.65"],
  ["run", 2.25, 2, "1800.0", "3628.6", "275.59"],
  // A cabled 3 x 16/2 has six plies; two cotton-trade textbooks on yarn numbering.
  ["cotton", 16, 6, "2240.0", "4515.6", "221.45"],
] as const)("%s %d in %d plies", (system, figure, plies, yards, metres, tex) => {
  const grams = weight(system, figure, plies);
  expect(decimalText(yardsInPound(grams), 1)).toBe(yards);
  expect(decimalText(metresInKilogram(grams), 1)).toBe(metres);
  expect(decimalText(numberIn(grams, "tex"), 2)).toBe(tex);
});

test("unequal plies of 60s and 40s are 24s, as a textbook on cotton spinning works out", () => {
  const doubled = { top: 0n, bottom: 1n };
  const grams = [60, 40]
    .map((one) => weight("cotton", one))
    .reduce(
      (sum, one) => ({
        top: sum.top * one.bottom + one.top * sum.bottom,
        bottom: sum.bottom * one.bottom,
      }),
      doubled,
    );
  expect(decimalText(numberIn(grams, "cotton"), 4)).toBe("24.0000");
});

test("from any system to any other and back is the same number, exactly", () => {
  const system = fc.constantFrom(...yarnSystems);
  fc.assert(
    fc.property(
      system,
      system,
      fc.integer({ min: 1, max: 10_000_000 }),
      (from, to, thousandths) => {
        const there = numberIn(gramsPerMetre({ system: from, thousandths, plies: 1 }), to);
        const one = gramsPerMetre({ system: to, thousandths: 1_000, plies: 1 });
        const direct = to === "tex" || to === "dtex" || to === "denier";
        const grams = direct ? times(one, there) : dividedBy(one, there);
        expect(numberIn(grams, from)).toEqual(fraction(thousandths, 1_000));
      },
    ),
  );
});

describe("a length off the cone", () => {
  const cone = (thousandths: number, unit: "yd/lb" | "m/kg" = "yd/lb") =>
    buildYarn(null, pure("cotton"), {
      number: { system: "cotton", thousandths: 8_000, plies: 2 },
      yardage: { unit, thousandths },
    });

  test("wins over the number", () => {
    expect(decimalText(yardsInPound(metreWeight(cone(3_250_000))!), 0)).toBe("3250");
    expect(decimalText(metresInKilogram(metreWeight(cone(6_500_000, "m/kg"))!), 0)).toBe("6500");
  });

  test("more than a tenth off is told with both, a tenth is not", () => {
    // A chart is known to print 8/2 with the length of 10/2.
    const off = yardageMismatch(cone(4_200_000));
    expect(off && [off.typed, off.nominal].map((one) => decimalText(one, 0))).toEqual([
      ...["4200", "3360"],
    ]);
    expect(yardageMismatch(cone(3_696_000))).toBeNull();
    expect(yardageMismatch(cone(3_696_001))).not.toBeNull();
    expect(yardageMismatch(cone(3_024_000))).toBeNull();
    expect(yardageMismatch(cone(3_023_999))).not.toBeNull();
  });
});

// Ashenhurst's rule as printed in a nineteenth-century textbook; figures worked from it.
test.each([
  [3_360, "firm", "52.17", ["26.1", "20.9"], ["34.8", "27.8"]],
  [4_200, "firm", "58.33", ["29.2", "23.3"], ["38.9", "31.1"]],
  [1_800, "lofty", "35.64", ["17.8", "14.3"], ["23.8", "19.0"]],
  [8_400, "firm", "82.49", ["41.2", "33.0"], ["55.0", "44.0"]],
] as const)("sett of %d yards in a pound, %s", (yards, yarn, sideBySide, plain, twill) => {
  const guide = settGuide(fraction(yards), yarn);
  const text = (figure: number, decimals: number) => decimalText(fraction(figure, 1_000), decimals);
  expect(text(guide.sideBySide, 2)).toBe(sideBySide);
  expect([text(guide.plain.most, 1), text(guide.plain.ordinary, 1)]).toEqual(plain);
  expect([text(guide.twill.most, 1), text(guide.twill.ordinary, 1)]).toEqual(twill);
});

test("the guide's root is never above the true one, and less than a thousandth below", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 200_000 }), (yards) => {
      const { sideBySide } = settGuide(fraction(yards), "firm");
      const square = (one: number) => BigInt(one) * BigInt(one) * 100n;
      const true2 = BigInt(yards) * 81n * 1_000_000n;
      expect(square(sideBySide) <= true2).toBe(true);
      expect(square(sideBySide + 2) > true2).toBe(true);
    }),
  );
});
