import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { total } from "../../src/rules/money.ts";
import { guildShareOf, type SoldLine, settle } from "../../src/rules/settlement.ts";

const sold = (amount: number, rate: number, change: Partial<SoldLine> = {}): SoldLine => ({
  lineId: "line",
  memberId: "ann",
  memberNumber: 101,
  quantity: 1,
  amount,
  donated: false,
  rate,
  ...change,
});

// Guild share by line, half up, worked out with exact decimals by an independent script.
test.each([
  [15_000, [450, 450, 450, 450, 450], 2250, 340, 1910],
  [15_000, Array<number>(7).fill(330), 2310, 350, 1960],
  [25_000, [1250, 810, 630], 2690, 674, 2016],
  [20_000, [799, 799, 799], 2397, 480, 1917],
  [30_000, [995, 1495, 2495], 4985, 1497, 3488],
  [35_000, Array<number>(9).fill(150), 1350, 477, 873],
  [12_500, [1800, 2200, 3500], 7500, 938, 6562],
  [20_000, [6800, 4250, 2725, 11500], 25275, 5055, 20220],
])("at %i, %j: gross %i, guild %i, net %i", (rate, amounts, gross, guildShare, net) => {
  const [ann] = settle(amounts.map((amount) => sold(amount, rate)));
  expect(ann).toMatchObject({ gross, guildShare, net, donated: 0 });
});

describe("a settlement", () => {
  test("lists members by number with their lines as they came", () => {
    const result = settle([
      sold(1000, 20_000, { lineId: "1", memberId: "zoe", memberNumber: 140 }),
      sold(2000, 20_000, { lineId: "2" }),
      sold(3000, 20_000, { lineId: "3", memberId: "zoe", memberNumber: 140 }),
    ]);
    expect(result.map(({ memberNumber }) => memberNumber)).toEqual([101, 140]);
    expect(result[1]!.lines).toMatchObject([
      { lineId: "1", guildShare: 200, net: 800 },
      { lineId: "3", guildShare: 600, net: 2400 },
    ]);
    expect(settle([])).toEqual([]);
  });

  test("shows donated pieces but owes nothing for them", () => {
    const [ann] = settle([sold(1000, 20_000), sold(500, 20_000, { donated: true })]);
    expect(ann).toMatchObject({ gross: 1000, guildShare: 200, net: 800, donated: 500 });
    expect(ann!.lines[1]).toMatchObject({ donated: true, guildShare: 500, net: 0 });
  });
});

describe("a return", () => {
  const original = { quantity: 3, amount: 1350, alreadyReturned: 0 };

  test("takes back its exact part of the share that was taken", () => {
    // 15 % of 13.50 is 2.025, so 2.03 was taken; three steps give .68, .67 and .68.
    const steps = [0, 1, 2].map((alreadyReturned) =>
      guildShareOf(
        sold(-450, 15_000, { quantity: -1, original: { ...original, alreadyReturned } }),
      ),
    );
    expect(steps).toEqual([-68, -67, -68]);
  });

  test("can leave a member owing, for a supplementary settlement", () => {
    const [ann] = settle([sold(-1350, 15_000, { quantity: -3, original })]);
    expect(ann).toMatchObject({ gross: -1350, guildShare: -203, net: -1147 });
  });

  test("of a donated piece is the guild's loss alone", () => {
    const line = sold(-1350, 15_000, { quantity: -3, original, donated: true });
    expect(settle([line])[0]).toMatchObject({ gross: 0, net: 0, donated: -1350 });
  });

  test("without its original, or a sale with one, is a broken line", () => {
    expect(() => guildShareOf(sold(-450, 15_000, { quantity: -1 }))).toThrow("line");
    expect(() => guildShareOf(sold(450, 15_000, { original }))).toThrow("line");
    expect(() => guildShareOf(sold(-450, 15_000, { quantity: 1, original }))).toThrow("line");
  });
});

test("every coin of the takings is the guild's or a member's, and full returns leave none", () => {
  const drawn = fc.record({
    memberNumber: fc.integer({ min: 100, max: 105 }),
    unitPrice: fc.integer({ min: 1, max: 99_999 }),
    quantity: fc.integer({ min: 1, max: 6 }),
    rate: fc.integer({ min: 0, max: 100_000 }),
    donated: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.array(drawn), (pieces) => {
      const sales: SoldLine[] = pieces.map((piece, index) => ({
        ...piece,
        lineId: `${index}`,
        memberId: `m${piece.memberNumber}`,
        amount: piece.unitPrice * piece.quantity,
      }));
      const members = settle(sales);
      for (const one of members) expect(one.gross).toBe(one.guildShare + one.net);
      const takings = total(sales.map(({ amount }) => amount));
      expect(total(members.flatMap((one) => [one.guildShare, one.net, one.donated]))).toBe(takings);

      const returns = pieces.flatMap((piece, index) =>
        Array.from({ length: piece.quantity }, (_, alreadyReturned) => ({
          ...sales[index]!,
          quantity: -1,
          amount: -piece.unitPrice,
          original: { quantity: piece.quantity, amount: sales[index]!.amount, alreadyReturned },
        })),
      );
      for (const one of settle([...sales, ...returns]))
        expect([one.gross, one.guildShare, one.net, one.donated]).toEqual([0, 0, 0, 0]);
    }),
  );
});
