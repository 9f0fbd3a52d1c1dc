import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { total } from "../../src/rules/money.ts";
import { totalsOf } from "../../src/rules/receipt.ts";
import { computeReversal, refundBy, type StoredLine } from "../../src/rules/reversal.ts";
import { basketLine, plainTerms } from "./basket-support.ts";
import { anyTaxRules, numRuns } from "./tax/arbitrary.ts";

const stored = (lineId: string, change: Partial<StoredLine> = {}): StoredLine => ({
  lineId,
  quantity: 3,
  unitPrice: 499,
  discount: 0,
  amount: 1497,
  tax: 109,
  taxIncluded: 0,
  alreadyReturned: 0,
  ...change,
});

describe("a return", () => {
  test("gives back the stored amount and tax", () => {
    const result = computeReversal({ lines: [stored("a")] }, [{ lineId: "a", quantity: 3 }]);
    expect(result).toEqual({
      ok: true,
      value: {
        lines: [
          {
            lineId: "a",
            quantity: 3,
            gross: -1497,
            discount: 0,
            amount: -1497,
            tax: -109,
            taxIncluded: 0,
          },
        ],
        gross: -1497,
        discount: 0,
        subtotal: -1497,
        tax: -109,
        total: -1606,
      },
    });
  });

  test("of one piece after another strands no cent", () => {
    const steps = [0, 1, 2].map((alreadyReturned) =>
      computeReversal({ lines: [stored("a", { alreadyReturned })] }, [
        { lineId: "a", quantity: 1 },
      ]),
    );
    expect(steps.map((step) => step.ok && step.value.tax)).toEqual([-36, -37, -36]);
    expect(steps.map((step) => step.ok && step.value.subtotal)).toEqual([-499, -499, -499]);
  });

  test("without tax has a plain zero", () => {
    const lines = [stored("a", { tax: 0 })];
    const result = computeReversal({ lines }, [{ lineId: "a", quantity: 1 }]);
    expect(result).toMatchObject({ value: { tax: 0, lines: [{ tax: 0 }], total: -499 } });
  });
});

test.each<[string, { lineId: string; quantity: number }[], string, string]>([
  ["nothing", [], "returns", "at least one"],
  [
    "another receipt's line",
    [{ lineId: "x", quantity: 1 }],
    "returns.0.lineId",
    "not on that receipt",
  ],
  ["more than is left", [{ lineId: "a", quantity: 3 }], "returns.0.quantity", "At most 2"],
  ["no pieces", [{ lineId: "a", quantity: 0 }], "returns.0.quantity", "1 or more"],
  ["half a piece", [{ lineId: "a", quantity: 0.5 }], "returns.0.quantity", "1 or more"],
  ["what came back before", [{ lineId: "b", quantity: 1 }], "returns.0.quantity", "already"],
  [
    "a line twice",
    [
      { lineId: "a", quantity: 1 },
      { lineId: "a", quantity: 1 },
    ],
    "returns.1.lineId",
    "twice",
  ],
])("%s is refused", (_, returns, field, message) => {
  const lines = [stored("a", { alreadyReturned: 1 }), stored("b", { alreadyReturned: 3 })];
  expect(computeReversal({ lines }, returns)).toMatchObject({
    ok: false,
    problem: { errors: [{ field, message: expect.stringContaining(message) }] },
  });
});

describe("tax in the price", () => {
  // 2 × 1.00 hold 0.33; half of 0.33 and half of the net 1.67 would both be rounded up, and 1.01
  // would go back for the first piece. Worked by hand.
  const towels = { unitPrice: 100, quantity: 2, amount: 167, tax: 33, taxIncluded: 33 };
  const one = [{ lineId: "a", quantity: 1 }];

  test("goes back without a coin more than was paid", () => {
    const [first, second] = [0, 1].map((alreadyReturned) =>
      computeReversal({ lines: [stored("a", { ...towels, alreadyReturned })] }, one),
    );
    expect(first).toMatchObject({ value: { subtotal: -83, tax: -17, total: -100 } });
    expect(second).toMatchObject({ value: { subtotal: -84, tax: -16, total: -100 } });
  });

  test("that was taken off for an exempt buyer does not go back", () => {
    const line = stored("a", { ...towels, discount: 33, tax: 0, taxIncluded: 0 });
    expect(computeReversal({ lines: [line] }, one)).toMatchObject({
      value: { discount: -17, subtotal: -83, tax: 0, total: -83 },
    });
  });
});

test("a discount goes back with the pieces, and what cost nothing gives nothing back", () => {
  // 3 × 4.99 less 15 % was 2.25 off: 0.75 a piece.
  const line = stored("a", { discount: 225, amount: 1272, tax: 92 });
  expect(computeReversal({ lines: [line] }, [{ lineId: "a", quantity: 1 }])).toMatchObject({
    value: { gross: -499, discount: -75, subtotal: -424, tax: -31, total: -455 },
  });
  const free = stored("a", { discount: 1497, amount: 0, tax: 0 });
  const { lines, ...sums } = { lines: [{ lineId: "a", quantity: 2 }], total: 0, tax: 0 };
  expect(computeReversal({ lines: [free] }, lines)).toMatchObject({ value: sums });
});

test("figures that do not add up are never taken back", () => {
  const wrong = stored("a", { taxIncluded: 1 });
  expect(() => computeReversal({ lines: [wrong] }, [{ lineId: "a", quantity: 1 }])).toThrow(
    "do not add up",
  );
});

describe("a refund", () => {
  const fivers = { step: 5, fives: "up" } as const;

  test.each([
    ["cash", -1762, { amount: 1760, rounding: 2 }],
    ["cash", -1763, { amount: 1765, rounding: -2 }],
    ["cash", -2, { amount: 0, rounding: 2 }],
    ["card", -1762, { amount: 1762, rounding: 0 }],
    ["cheque", 0, { amount: 0, rounding: 0 }],
  ] as const)("by %s of %i", (kind, back, paid) => {
    expect(refundBy(kind, back, fivers)).toEqual(paid);
  });

  test("is never of money that came in", () => {
    expect(() => refundBy("cash", 1, fivers)).toThrow(RangeError);
  });
});

const anySale = fc.array(
  fc.record({
    unitPrice: fc.oneof(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 99_999 })),
    quantity: fc.integer({ min: 1, max: 9 }),
    markdownAllowed: fc.boolean(),
    taxKind: fc.constantFrom("scarf", "yarn"),
  }),
  { minLength: 1, maxLength: 6 },
);

test("piece by piece or at once, what comes back cancels the receipt exactly", () => {
  const terms = fc.record({
    tax: anyTaxRules,
    exempt: fc.boolean(),
    markdownRate: fc.oneof(fc.constant(0), fc.nat(100_000)),
  });
  const steps = fc.infiniteStream(fc.integer({ min: 1, max: 4 }));
  fc.assert(
    fc.property(anySale, terms, steps, (drawn, drawnTerms, stream) => {
      const basket = drawn.map((one, index) => ({ ...basketLine(`${index}`, 1), ...one }));
      const receipt = totalsOf(basket, { ...plainTerms(), ...drawnTerms });
      const figures = ["gross", "discount", "amount", "tax", "taxIncluded"] as const;
      for (const { key: lineId, ...line } of receipt.lines) {
        const back = figures.map(() => 0);
        for (let alreadyReturned = 0; alreadyReturned < line.quantity; ) {
          const quantity = Math.min(stream.next().value ?? 1, line.quantity - alreadyReturned);
          const stored = { ...line, lineId, alreadyReturned };
          const step = computeReversal({ lines: [stored] }, [{ lineId, quantity }]);
          if (!step.ok) throw new Error("A lawful return was refused");
          const [taken] = step.value.lines;
          for (const [index, figure] of figures.entries()) {
            expect(taken![figure]).toBeLessThanOrEqual(0);
            back[index]! += taken![figure];
          }
          expect(step.value.total).toBe(total([taken!.amount, taken!.tax]));
          alreadyReturned += quantity;
        }
        expect(back).toEqual(figures.map((figure) => 0 - line[figure]));
      }
    }),
    { numRuns },
  );
});
