import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fibreList } from "../../../src/rules/fibre.ts";
import type { FibreEntry, Role } from "../../../src/rules/labels/contents.ts";
import { fibreLabel } from "../../../src/rules/labels/fibre-label.ts";
import { fibreCodes } from "../../../src/rules/labels/fibres.ts";
import { packs } from "../../../src/rules/labels/packs/index.ts";
import { checkTypedLabel } from "../../../src/rules/labels/typed-label.ts";
import { printedShares } from "../../../src/rules/labels/whole-shares.ts";
import { piece } from "./support.ts";

const roles: (Role | undefined)[] = [undefined, undefined, "functional", "ornament"];
const fibres: fc.Arbitrary<FibreEntry[]> = fc.array(
  fc.record({
    fibre: fc.constantFrom(...fibreCodes.filter((code) => code !== "scraps")),
    share: fc.integer({ min: 1, max: 5_000 }),
    role: fc.constantFrom(...roles),
  }),
  { minLength: 1, maxLength: 7 },
);
/** By code, so that a failing case prints in a few lines. */
const packCodes = fc.constantFrom(...packs.map(({ code }) => code));
const packOf = (code: string) => packs.find((pack) => pack.code === code)!;
const lastWords = /other|unk|unb|sonst|autre|inco|otra|desc/i;

const numbersIn = (text: string): number[] =>
  [...text.matchAll(/(\d+)(?:[.,](\d+))?\s?%/g)].map(([, whole, decimals = ""]) =>
    Number(`${whole}${decimals.padEnd(3, "0")}`),
  );

describe("any fibres in any jurisdiction", () => {
  test("make percentages that total 100, or nothing is printed", () => {
    fc.assert(
      fc.property(fibres, packCodes, (typed, code) => {
        const pack = packOf(code);
        const { lines, refusals } = fibreLabel(piece(pack, typed));
        expect(lines.length > 0).toBe(refusals.length === 0);
        for (const { text } of lines) {
          const percentages = numbersIn(text);
          expect(percentages.reduce((sum, one) => sum + one, 0)).toBe(100_000);
          expect(percentages.every((one) => one > 0)).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });

  test("print the same whatever the order of typing, and only what the typed check accepts", () => {
    fc.assert(
      fc.property(fibres, packCodes, (typed, code) => {
        const pack = packOf(code);
        const contents = piece(pack, typed);
        const { lines } = fibreLabel(contents);
        expect(fibreLabel(piece(pack, typed.toReversed())).lines).toEqual(lines);
        for (const { text } of lines) expect(checkTypedLabel(text, contents)).toEqual([]);
      }),
    );
  });

  test("never print wool that is not there, nor plain bamboo", () => {
    fc.assert(
      fc.property(fibres, packCodes, (typed, code) => {
        const pack = packOf(code);
        const text = fibreLabel(piece(pack, typed))
          .lines.map((line) => line.text)
          .join("; ");
        if (!typed.some(({ fibre }) => fibre.includes("wool")))
          expect(text).not.toMatch(/Wool|Laine/);
        expect(text).not.toMatch(/% Bamboo/i);
      }),
    );
  });

  test("stand in order of weight, other and unknown fibres last", () => {
    fc.assert(
      fc.property(fibres, packCodes, (typed, code) => {
        const pack = packOf(code);
        for (const { text } of fibreLabel(piece(pack, typed)).lines) {
          const pieces = text.split(/, (?=\d)/);
          const last = pieces.findIndex((one) => lastWords.test(one));
          const named = numbersIn(pieces.slice(0, last < 0 ? undefined : last).join(", "));
          expect(named.toSorted((one, other) => other - one)).toEqual(named);
          const rest = last < 0 ? [] : pieces.slice(last);
          expect(rest.every((one) => lastWords.test(one))).toBe(true);
        }
      }),
    );
  });
});

test("shares are never zero, and a blend never reads 100", () => {
  const weights = fc.array(fc.bigInt({ min: 1n, max: 10n ** 7n }), { minLength: 2, maxLength: 6 });
  fc.assert(
    fc.property(weights, (all) => {
      const shares = printedShares(all.map((weight, place) => ({ name: `${place}`, weight })));
      if (!shares) return;
      const whole = 100n * 10n ** BigInt(shares.decimals);
      expect(shares.units.reduce((sum, unit) => sum + unit, 0n)).toBe(whole);
      expect(shares.units.every((unit) => unit > 0n && unit < whole)).toBe(true);
    }),
  );
  expect(() => printedShares([{ name: "Cotton", weight: 0n }])).toThrow(RangeError);
});

test("every fibre an item can have is known to the labels, in every language of every pack", () => {
  expect(fibreList.map(({ code }) => code)).toEqual(fibreCodes);
  expect(new Set(packs.map(({ code }) => code)).size).toBe(packs.length);
  for (const pack of packs)
    for (const language of pack.languages)
      for (const code of fibreCodes) expect(pack.words[language]?.names[code]).toMatch(/\p{L}/u);
});
