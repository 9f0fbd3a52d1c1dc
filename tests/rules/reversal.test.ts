import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { totalsOf } from "../../src/rules/receipt.ts";
import { computeReversal, type StoredLine } from "../../src/rules/reversal.ts";

const stored = (lineId: string, change: Partial<StoredLine> = {}): StoredLine => ({
  lineId,
  quantity: 3,
  unitPrice: 499,
  amount: 1497,
  tax: 109,
  alreadyReturned: 0,
  ...change,
});

describe("a return", () => {
  test("gives back the stored amount and tax", () => {
    const result = computeReversal({ lines: [stored("a")] }, [{ lineId: "a", quantity: 3 }]);
    expect(result).toEqual({
      ok: true,
      value: {
        lines: [{ lineId: "a", quantity: 3, amount: -1497, tax: -109 }],
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

test("whatever came back before, returning the rest cancels the receipt exactly", () => {
  const items = fc.array(
    fc.record({
      unitPrice: fc.integer({ min: 1, max: 99_999 }),
      quantity: fc.integer({ min: 2, max: 9 }),
      first: fc.integer({ min: 1, max: 8 }),
    }),
    { minLength: 1, maxLength: 8 },
  );
  fc.assert(
    fc.property(items, fc.integer({ min: 0, max: 25_000 }), (drawn, rate) => {
      const parts = { tag: "", description: "", memberId: "", memberNumber: 100, donated: false };
      const basket = drawn.map((item, index) => ({ ...parts, ...item, itemId: `${index}` }));
      const receipt = totalsOf(basket, rate);
      const lines = receipt.lines.map((line) => ({
        ...line,
        lineId: line.itemId,
        alreadyReturned: 0,
      }));
      const firstOf = (index: number) => Math.min(drawn[index]!.first, drawn[index]!.quantity - 1);
      const first = computeReversal(
        { lines },
        lines.map(({ lineId }, index) => ({ lineId, quantity: firstOf(index) })),
      );
      const later = lines.map((line, index) => ({ ...line, alreadyReturned: firstOf(index) }));
      const rest = computeReversal(
        { lines: later },
        later.map(({ lineId, quantity, alreadyReturned }) => ({
          lineId,
          quantity: quantity - alreadyReturned,
        })),
      );
      if (!first.ok || !rest.ok) throw new Error("A lawful return was refused");
      expect(first.value.total + rest.value.total + receipt.total).toBe(0);
      expect(first.value.tax + rest.value.tax + receipt.tax).toBe(0);
    }),
  );
});
